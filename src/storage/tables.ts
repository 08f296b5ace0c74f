/** The tables as Kysely sees them. Times are ms since 1970; JSON columns hold text. */
export interface Tables {
  routes: RouteTable;
  routesVersion: RoutesVersionTable;
  cohorts: CohortTable;
  outings: OutingTable;
}

export interface RouteTable {
  id: string;
  /** SHA-256 of the bytes and the attributes that were sent. */
  contentHash: string;
  /** Which route of its file, from 0, and how many the file held. */
  position: number;
  ofFile: number;
  name: string;
  revision: number;
  createdAtMs: number;
  updatedAtMs: number;
  /** JSON of `RouteAttributes`. */
  attributes: string;
  /** JSON of segments of `[lon, lat]`, 7 decimals. Recorded heights and times are personal: never here. */
  line: string;
  /** JSON of the rest of `Route`. */
  measured: string;
  /** JSON of `RouteRow`, what ranking looks at; empty where an older program stored the route. */
  ranking: string;
  /** Names the methods, settings and tiles that gave `measured`. */
  method: string;
}

/** One row: grows with every change of a route, whoever makes it. */
interface RoutesVersionTable {
  version: number;
}

export interface CohortTable {
  id: string;
  name: string;
  revision: number;
  createdAtMs: number;
  updatedAtMs: number;
  /** Latest day that the cohort walked or asked about, `YYYY-MM-DD`: its data are erased some time after it. */
  lastTripDate: string;
  /** JSON of `Cohort`: the cohort without its outings. */
  cohort: string;
}

export interface OutingTable {
  id: string;
  cohortId: string;
  createdAtMs: number;
  /** JSON of `Outing`; the raw track is never stored. */
  outing: string;
}
