/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren } from 'preact';
import { CLEARANCE_TEXT } from '../text/stated-words.ts';
import {
  COUNT,
  eachRow,
  type FormField,
  type FormRows,
  type FormTable,
  type FormValues,
  fieldsIn,
  labelOf,
} from './form-table.ts';

/** A field that says something else than what somebody has stored since the form was opened. */
interface Meanwhile {
  readonly field: string;
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

/** What a form shows: the texts of its fields, as they are stored or as they were sent, and what is wrong with them. */
export interface FormState {
  readonly values: FormValues;
  readonly fault: FormFault | null;
}

export const faultAt = (fault: FormFault | null, field: string): FieldFault | undefined =>
  fault === null ? undefined : [fault, ...(fault.more ?? [])].find((one) => one.field === field);

const meanwhileAt = (fault: FormFault | null, id: string): string | undefined =>
  fault?.meanwhile?.find(({ field }) => field === id)?.stored;

/** What is wrong with a field, tied to it by its id. */
export const FaultText = ({ id, fault }: { readonly id: string; readonly fault: FormFault | null }) =>
  faultAt(fault, id) === undefined ? null : (
    <p class="fault" id={`${id}-fault`}>
      {faultAt(fault, id)?.text}
    </p>
  );

/** What is stored now beside what was typed, where somebody has changed it since the form was opened. */
function NowStored({
  fault,
  field,
}: Pick<FormState, 'fault'> & { readonly field: Pick<FormField, 'id' | 'options'> }) {
  const { id, options } = field;
  const now = meanwhileAt(fault, id);
  if (now === undefined) return null;
  return (
    <p class="fault" id={`${id}-now`}>
      stored meanwhile: {now === '' ? 'nothing' : (options?.find(([key]) => key === now)?.[1] ?? now)}
    </p>
  );
}

/** A control with its label, its hint and its fault, tied to it for those who do not see them. */
export function Field({ field, values, fault }: FormState & { readonly field: FormField }) {
  const { id, hint, class: className = '', options, isLong, input } = field;
  const value = values[id] ?? '';
  const isWrong = faultAt(fault, id) !== undefined;
  const described = [
    hint === undefined ? null : `${id}-hint`,
    isWrong ? `${id}-fault` : null,
    meanwhileAt(fault, id) === undefined ? null : `${id}-now`,
  ];
  const shared = {
    id,
    name: id,
    'aria-describedby': described.filter(Boolean).join(' ') || undefined,
    'aria-invalid': isWrong || undefined,
  };
  return (
    <div class={`field ${className}`.trim()}>
      <label for={id}>{labelOf(field)}</label>
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <FaultText id={id} fault={fault} />
      <NowStored field={field} fault={fault} />
      {options !== undefined ? (
        <select {...shared}>
          {options.map(([key, text]) => (
            <option value={key} selected={key === value}>
              {text}
            </option>
          ))}
        </select>
      ) : isLong ? (
        <textarea {...shared} maxLength={input?.maxLength}>
          {value}
        </textarea>
      ) : (
        <input {...shared} type="text" autoComplete="off" value={value} {...input} />
      )}
    </div>
  );
}

export function Fields(
  props: FormState & {
    readonly fields: readonly FormField[];
    readonly class?: string;
    readonly children?: ComponentChildren;
  },
) {
  const { fields, class: className = '', children, ...state } = props;
  return (
    <div class={`fields ${className}`.trim()}>
      {fields.map((field) => (
        <Field field={field} {...state} />
      ))}
      {children}
    </div>
  );
}

/** A part of a form: fields, and rows of them. */
export function FieldGroup(
  props: FormState & {
    readonly legend: string;
    readonly hint?: ComponentChildren;
    readonly fields?: readonly FormField[];
    readonly rows?: FormRows;
    readonly children?: ComponentChildren;
  },
) {
  const { legend, hint, fields, rows, children, ...state } = props;
  return (
    <fieldset>
      <legend>{legend}</legend>
      {hint !== undefined && <p class="hint">{hint}</p>}
      {fields !== undefined && <Fields fields={fields} {...state} />}
      {children}
      {rows !== undefined && eachRow(rows).map((row) => <Fields fields={row} {...state} />)}
    </fieldset>
  );
}

export function Tick(props: {
  readonly name: string;
  readonly value: string;
  readonly checked: boolean;
  readonly children: ComponentChildren;
}) {
  const { children, ...input } = props;
  return (
    <label class="tick">
      <input type="checkbox" {...input} />
      <span>{children}</span>
    </label>
  );
}

export function Ticks(props: {
  readonly legend: string;
  readonly name: string;
  readonly options: readonly (readonly [value: string, text: string])[];
  readonly ticked: readonly string[];
  readonly hint?: string;
  readonly id?: string;
  /** Of the field, where others may have changed it. */
  readonly fault?: FormFault | null;
  readonly children?: ComponentChildren;
}) {
  const { legend, name, options, ticked, hint, id, fault = null, children } = props;
  return (
    <fieldset class="bare" id={id}>
      <legend>{legend}</legend>
      <NowStored field={{ id: name }} fault={fault} />
      {hint !== undefined && <p class="hint">{hint}</p>}
      <div class="ticks-row">
        {options.map(([value, text]) => (
          <Tick name={name} value={value} checked={ticked.includes(value)}>
            {text}
          </Tick>
        ))}
      </div>
      {children}
    </fieldset>
  );
}

export const labelOptions = (labels: readonly string[]) => labels.map((label) => [label, label] as const);

/** How the title of a page begins whose form was not stored. */
export const notStored = (fault: FormFault | null): string | null => (fault === null ? null : 'Not stored');

/**
 * What is wrong with a form, said once at its head, with links to the fields. It takes the focus: the page is a new
 * one, and readers do not announce an alert that was there from the beginning.
 */
export function FaultNote(props: {
  readonly fault: FormFault | null;
  readonly table?: FormTable;
  readonly said?: string;
}) {
  const { fault, table = [], said = 'Nothing has been stored yet.' } = props;
  if (fault === null) return null;
  const { field, text, more = [], meanwhile = [] } = fault;
  const labels = new Map(fieldsIn(table).map((one) => [one.id, labelOf(one)]));
  const order = [...labels.keys()];
  const place = ({ field: id }: FieldFault) => order.indexOf(id ?? '');
  const inOrder = more.length === 0 ? [] : [fault, ...more].sort((a, b) => place(a) - place(b));
  const links = [
    ...inOrder.map((one) => ({ ...one, text: `: ${one.text}` })),
    ...meanwhile.map((one) => ({ ...one, text: '' })),
  ];
  return (
    // biome-ignore lint/a11y/noAutofocus: what was sent came back; without this a reader begins at the head of the page.
    <div class="box notice" role="alert" tabIndex={-1} autoFocus>
      <p>
        <strong>{said}</strong> {more.length > 0 && `${more.length + 1} fields are to be corrected:`}
        {more.length === 0 && (field === null ? text : <a href={`#${field}`}>{text}</a>)}
      </p>
      {links.length > 0 && (
        <ul>
          {links.map((one) => (
            <li>
              <a href={`#${one.field}`}>{labels.get(one.field ?? '') ?? one.field}</a>
              {one.text}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

export const CLEARANCES = Object.entries(CLEARANCE_TEXT);

/** A vehicle of a list in a form: its seats, and its kind. */
export const vehicleRow = (n: number, seats: Partial<FormField> = {}): readonly FormField[] => [
  { id: `seats${n}`, label: `Vehicle ${n}: seats`, at: '/seats', input: COUNT, ...seats },
  { id: `clearance${n}`, label: `Vehicle ${n}: kind`, at: '/clearance', options: CLEARANCES },
];
