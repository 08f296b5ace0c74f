import { renderToString } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { html } from '../../src/markup/words.tsx';

const name = 'Fern & "Bracken" <b>';
const ESCAPED = 'Fern &amp; &quot;Bracken&quot; &lt;b>';

describe('HTML written out', () => {
  it('escapes what stands in a gap, once, as text, in an attribute and in a list', () => {
    expect(renderToString(html`<p title="${name}">${name}${[name, html`<b>${name}</b>`]}</p>`)).toBe(
      `<p title="${ESCAPED}">${ESCAPED}${ESCAPED}<b>${ESCAPED}</b></p>`,
    );
  });

  it('leaves out what is not there, and says 0', () => {
    expect(renderToString(html`<p>${null}${false}${undefined}${''}${0}</p>`)).toBe('<p>0</p>');
  });

  it('leaves out the line breaks of the source, not those of a text', () => {
    const row = html`
      <tr>
        <td>${'two\n  lines'}</td>
      </tr>
    `;
    expect(renderToString(row)).toBe('<tr><td>two\n  lines</td></tr>');
  });
});
