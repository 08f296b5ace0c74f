/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren, VNode } from 'preact';

/** A fault of a form: what is wrong, and which field it is about (`null`: the form as a whole). */
export interface FormFault {
  readonly field: string | null;
  readonly text: string;
}

interface LabelledProps {
  readonly id: string;
  readonly label: string;
  readonly hint?: ComponentChildren;
  readonly fault?: FormFault | null | undefined;
  readonly class?: string;
}

interface WrapProps extends LabelledProps {
  readonly children: (described: {
    readonly 'aria-describedby': string | undefined;
    readonly 'aria-invalid': 'true' | undefined;
  }) => VNode;
}

/** A control with its label, its hint and its fault, tied to it for those who do not see them. */
function Labelled({ id, label, hint, fault, class: className, children }: WrapProps): VNode {
  const isWrong = fault != null && fault.field === id;
  const ids = [hint === undefined ? null : `${id}-hint`, isWrong ? `${id}-fault` : null].filter(Boolean);
  return (
    <div class={className === undefined ? 'field' : `field ${className}`}>
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {isWrong && (
        <p class="fault" id={`${id}-fault`}>
          {fault.text}
        </p>
      )}
      {children({
        'aria-describedby': ids.length === 0 ? undefined : ids.join(' '),
        'aria-invalid': isWrong ? 'true' : undefined,
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
    <Labelled id={id} label={label} hint={hint} fault={fault}>
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

/** What is wrong with a form, said once at its head, with a link to the field. */
export function FaultNote({ fault }: { readonly fault: FormFault | null }): VNode | null {
  if (fault === null) return null;
  return (
    <div class="box notice" role="alert">
      <p>
        <strong>Nothing has been stored yet.</strong>{' '}
        {fault.field === null ? fault.text : <a href={`#${fault.field}`}>{fault.text}</a>}
      </p>
    </div>
  );
}

export const CLEARANCES = [
  ['any', 'any car'],
  ['high', 'high clearance'],
  ['fourWheel', 'four-wheel drive'],
] as const;
