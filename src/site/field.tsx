/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren, VNode } from 'preact';
import { CLEARANCE_TEXT } from '../text/stated-words.ts';

/** A field that says something else than what somebody has stored since the form was opened. */
interface Meanwhile {
  readonly field: string;
  readonly label: string;
  /** Empty: nothing is stored there now. */
  readonly stored: string;
}

/** What is wrong, and which field it is about (`null`: the form as a whole). */
export interface FieldFault {
  readonly field: string | null;
  readonly text: string;
}

/** What is wrong with a form: the first fault, and those of other fields. */
export interface FormFault extends FieldFault {
  readonly more?: readonly FieldFault[];
  readonly meanwhile?: readonly Meanwhile[];
}

/** What is wrong with one field. */
export const faultAt = (fault: FormFault | null | undefined, field: string): FieldFault | undefined =>
  fault == null ? undefined : [fault, ...(fault.more ?? [])].find((one) => one.field === field);

/** The texts of the fields by their names, as they are stored or as they were sent. */
export type FormValues = Readonly<Record<string, string>>;

/** What every field of a form has. */
export interface FieldAt {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly fault: FormFault | null;
}

/** The fields of a form: by its name, each one’s label, text and fault. */
export function fieldsAt(
  values: FormValues,
  labels: Readonly<Record<string, string>>,
  fault: FormFault | null,
): (id: string) => FieldAt {
  return (id) => ({ id, label: labels[id] ?? id, value: values[id] ?? '', fault });
}

interface LabelledProps {
  readonly id: string;
  readonly label: string;
  readonly hint?: ComponentChildren;
  readonly fault?: FormFault | null | undefined;
  readonly class?: string;
  /** How a value is shown to people; left out: as it is. */
  readonly shown?: (value: string) => string;
}

interface WrapProps extends LabelledProps {
  readonly children: (described: {
    readonly 'aria-describedby': string | undefined;
    readonly 'aria-invalid': 'true' | undefined;
  }) => VNode;
}

/** What is stored now beside what was typed, where somebody has changed it since the form was opened. */
export function NowStored({ id, fault, shown }: Pick<LabelledProps, 'id' | 'fault' | 'shown'>): VNode | null {
  const now = fault?.meanwhile?.find(({ field }) => field === id)?.stored;
  if (now === undefined) return null;
  return (
    <p class="fault" id={`${id}-now`}>
      stored meanwhile: {now === '' ? 'nothing' : (shown?.(now) ?? now)}
    </p>
  );
}

/** A control with its label, its hint and its fault, tied to it for those who do not see them. */
function Labelled({ id, label, hint, fault, class: className, shown, children }: WrapProps): VNode {
  const own = faultAt(fault, id);
  const isOther = fault?.meanwhile?.some(({ field }) => field === id) === true;
  const ids = [
    hint === undefined ? null : `${id}-hint`,
    own !== undefined ? `${id}-fault` : null,
    isOther ? `${id}-now` : null,
  ].filter(Boolean);
  return (
    <div class={className === undefined ? 'field' : `field ${className}`}>
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {own !== undefined && (
        <p class="fault" id={`${id}-fault`}>
          {own.text}
        </p>
      )}
      <NowStored id={id} fault={fault} {...(shown === undefined ? {} : { shown })} />
      {children({
        'aria-describedby': ids.length === 0 ? undefined : ids.join(' '),
        'aria-invalid': own !== undefined ? 'true' : undefined,
      })}
    </div>
  );
}

interface InputProps extends LabelledProps {
  readonly type?: 'text' | 'number' | 'date' | 'time' | 'file';
  readonly value?: string;
  readonly required?: boolean;
  readonly min?: number;
  readonly max?: number | string;
  /** `any`: as fine as one likes. */
  readonly step?: number | 'any';
  readonly pattern?: string;
  readonly title?: string;
  readonly maxLength?: number;
  readonly list?: string;
  readonly accept?: string;
  readonly multiple?: boolean;
}

/** A line of text, a number, a day, a time of day or files. */
export function Input({
  id,
  label,
  hint,
  fault,
  class: className,
  type = 'text',
  ...rest
}: InputProps): VNode {
  return (
    <Labelled
      id={id}
      label={label}
      hint={hint}
      fault={fault}
      {...(className === undefined ? {} : { class: className })}
    >
      {(described) => <input id={id} name={id} type={type} autoComplete="off" {...rest} {...described} />}
    </Labelled>
  );
}

interface SelectProps extends LabelledProps {
  readonly value: string;
  readonly options: readonly (readonly [value: string, text: string])[];
}

export function Select({ id, label, hint, fault, value, options }: SelectProps): VNode {
  return (
    <Labelled
      id={id}
      label={label}
      hint={hint}
      fault={fault}
      shown={(stored) => options.find(([key]) => key === stored)?.[1] ?? stored}
    >
      {(described) => (
        <select id={id} name={id} {...described}>
          {options.map(([key, text]) => (
            <option value={key} selected={key === value}>
              {text}
            </option>
          ))}
        </select>
      )}
    </Labelled>
  );
}

interface TextAreaProps extends LabelledProps {
  readonly value: string;
  readonly maxLength: number;
}

export function TextArea({
  id,
  label,
  hint,
  fault,
  class: className,
  value,
  maxLength,
}: TextAreaProps): VNode {
  return (
    <Labelled
      id={id}
      label={label}
      hint={hint}
      fault={fault}
      {...(className === undefined ? {} : { class: className })}
    >
      {(described) => (
        <textarea id={id} name={id} maxLength={maxLength} {...described}>
          {value}
        </textarea>
      )}
    </Labelled>
  );
}

/** A box to tick. */
export function Tick({
  name,
  value,
  checked,
  children,
}: {
  readonly name: string;
  readonly value: string;
  readonly checked: boolean;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <label class="tick">
      <input type="checkbox" name={name} value={value} checked={checked} />
      <span>{children}</span>
    </label>
  );
}

/** How the title of a page begins whose form was not stored. */
export const notStored = (fault: FormFault | null): string | null => (fault === null ? null : 'Not stored');

/**
 * What is wrong with a form, said once at its head, with links to the fields. It takes the focus: the page is a new
 * one, and readers do not announce an alert that was there from the beginning.
 */
export function FaultNote({
  fault,
  labels = {},
  said = 'Nothing has been stored yet.',
}: {
  readonly fault: FormFault | null;
  /** What the fields are called, by their names, in the order of the page. */
  readonly labels?: Readonly<Record<string, string>>;
  /** What has not happened for it. */
  readonly said?: string;
}): VNode | null {
  if (fault === null) return null;
  const { field, text, more = [], meanwhile = [] } = fault;
  const isOne = more.length === 0;
  const order = Object.keys(labels);
  const inOrder = [fault, ...more].sort(
    (a, b) => order.indexOf(a.field ?? '') - order.indexOf(b.field ?? ''),
  );
  return (
    // biome-ignore lint/a11y/noAutofocus: what was sent came back; without this a reader begins at the head of the page.
    <div class="box notice" role="alert" tabIndex={-1} autoFocus>
      <p>
        <strong>{said}</strong> {!isOne && `${more.length + 1} fields are to be corrected:`}
        {isOne && (field === null ? text : <a href={`#${field}`}>{text}</a>)}
      </p>
      {!isOne && (
        <ul>
          {inOrder.map((one) => (
            <li>
              <a href={`#${one.field}`}>{labels[one.field ?? ''] ?? one.field}</a>: {one.text}
            </li>
          ))}
        </ul>
      )}
      {meanwhile.length > 0 && (
        <ul>
          {meanwhile.map(({ field: of, label }) => (
            <li>
              <a href={`#${of}`}>{label}</a>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** As the options of a field. */
export const CLEARANCES = Object.entries(CLEARANCE_TEXT);
