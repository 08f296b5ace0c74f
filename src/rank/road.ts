import type { Route } from '../route/describe-route.ts';

/** Road status as it is stated: closed, plainly open, or something to ask about. */
export const isClosedRoad = (status: string | null): boolean =>
  status !== null && /^\s*closed\b/i.test(status);
export const isOpenRoad = (status: string): boolean => /^\s*open\b/i.test(status);

/** Whether a route ends elsewhere and no pick-up is stated: then a second vehicle has to wait at its end. */
export const needsSecondVehicle = ({
  measures,
  attributes,
}: Pick<Route, 'measures' | 'attributes'>): boolean =>
  measures.shape === 'oneWay' && attributes.pickUp == null;
