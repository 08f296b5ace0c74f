/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren } from 'preact';
import { CellWords, Words } from '../markup/words.tsx';
import type { PageFrame } from './page.ts';

/** What people say or do next as links that look like buttons, in a row. */
export function LinkRow(props: {
  readonly frame: PageFrame;
  readonly links: readonly (readonly [path: string, text: string])[];
  /** Whether the first is what most come for. */
  readonly hasMain?: boolean;
}) {
  const { frame, links, hasMain = false } = props;
  return (
    <p class="row screen">
      {links.map(([path, text], i) => (
        <a class={hasMain && i === 0 ? 'button main' : 'button'} href={frame.to(path)}>
          {text}
        </a>
      ))}
    </p>
  );
}

export const SubmitRow = ({ text }: { readonly text: string }) => (
  <p class="row">
    <button type="submit" class="main">
      {text}
    </button>
  </p>
);

export const Paragraphs = ({ texts }: { readonly texts: readonly string[] }) => (
  <>
    {texts.map((text) => (
      <p>
        <Words text={text} />
      </p>
    ))}
  </>
);

const Named = ({ name, text }: { readonly name: string; readonly text: string }) => (
  <>
    <strong>{name}:</strong> <Words text={text} />
  </>
);

/** A paragraph with its name; none where nothing is said. */
export const NamedParagraph = ({ name, text }: { readonly name: string; readonly text: string }) =>
  text === '' ? null : (
    <p>
      <Named name={name} text={text} />
    </p>
  );

/** The end of a form that changes what is stored. */
export const StoreRow = (props: { readonly back: string; readonly children?: ComponentChildren }) => (
  <p class="row">
    <button type="submit" class="main">
      Store
    </button>
    {props.children}
    <a class="button" href={props.back}>
      Back without a change
    </a>
  </p>
);

/** What cannot be taken back, behind a line to open. */
export const EraseBox = (props: {
  readonly title: string;
  readonly action: string;
  readonly text: string;
  readonly button: string;
}) => (
  <details>
    <summary>{props.title}</summary>
    <form method="post" action={props.action}>
      <p>{props.text}</p>
      <button type="submit">{props.button}</button>
    </form>
  </details>
);

/** Sentences or answers as a list; a name before its text stands out. */
export const WordList = (props: { readonly texts: readonly (string | readonly [string, string])[] }) => (
  <ul>
    {props.texts.map((one) => (
      <li>{typeof one === 'string' ? <Words text={one} /> : <Named name={one[0]} text={one[1]} />}</li>
    ))}
  </ul>
);

/** Names with their values; `null`: not stated. */
export const MeasureTable = (props: {
  readonly caption: string;
  readonly rows: readonly (readonly [name: string, value: string | null])[];
}) => (
  <table class="measures">
    <caption class="unseen">{props.caption}</caption>
    <tbody>
      {props.rows.map(([name, value]) => (
        <tr>
          <th scope="row">{name}</th>
          <td>{value === null ? <em>not stated</em> : <Words text={value} />}</td>
        </tr>
      ))}
    </tbody>
  </table>
);

interface Column<Row> {
  readonly head: string;
  /** As a card has it before the value; left out: as the head. */
  readonly name?: string | ((row: Row) => string);
  /** Of its cells: `num` figures, `screen` not printed. */
  readonly class?: 'num' | 'screen';
  readonly cell: (row: Row) => ComponentChildren;
}

/** A table whose rows become cards on a phone. */
export function CardTable<Row>(props: {
  readonly caption: ComponentChildren;
  /** Not shown: a heading says it. */
  readonly hasCaptionUnseen?: boolean;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly nameAt?: number;
  readonly kind?: string;
}) {
  const { caption, hasCaptionUnseen = false, columns, rows, nameAt = 0, kind = '' } = props;
  const wordsOf = (row: Row, { cell }: Column<Row>) => {
    const words = cell(row);
    return typeof words === 'string' ? <CellWords text={words} /> : words;
  };
  const cellOf = (row: Row, column: Column<Row>) => {
    const { head, name = head, class: className } = column;
    const named = typeof name === 'string' ? name : name(row);
    return (
      <td class={className}>
        {named !== '' && <span class="name">{named} </span>}
        {wordsOf(row, column)}
      </td>
    );
  };
  return (
    <table class={`cards ${kind}`.trim()}>
      <caption class={hasCaptionUnseen ? 'unseen' : undefined}>{caption}</caption>
      <thead>
        <tr>
          {columns.map(({ head, class: className }) =>
            head === '' ? (
              <td class={className} />
            ) : (
              <th scope="col" class={className}>
                {head}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr>
            {columns.map((column, i) =>
              i === nameAt ? <th scope="row">{wordsOf(row, column)}</th> : cellOf(row, column),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Columns whose heads stand small before their values on a card; figures to the right. */
export const small = <Row,>(head: string, cell: Column<Row>['cell'], isFigure = false): Column<Row> => ({
  head,
  name: head.toLowerCase(),
  ...(isFigure ? { class: 'num' } : {}),
  cell,
});

/** Columns of rows that are texts already. */
export const textColumns = (heads: readonly string[]): readonly Column<readonly string[]>[] =>
  heads.map((head, i) => ({ head, cell: (row) => row[i] ?? '' }));
