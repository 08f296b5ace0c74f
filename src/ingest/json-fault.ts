type Expecting = 'value' | 'valueOrEnd' | 'key' | 'keyOrEnd' | 'colon' | 'commaOrEnd' | 'nothing';

const SCALAR =
  /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?(?![0-9A-Za-z.])|(?:true|false|null)(?![0-9A-Za-z])/y;

/**
 * The index of the first character at which a text stops being JSON (RFC 8259); the text's length
 * where it ends too early or is JSON. JSON.parse names no index in half of its messages.
 */
export function jsonFaultIndex(text: string): number {
  const closers: string[] = [];
  let expecting: Expecting = 'value';
  let at = 0;
  const afterValue = (): Expecting => (closers.length === 0 ? 'nothing' : 'commaOrEnd');
  for (;;) {
    at = skipSpace(text, at);
    const character = text[at];
    if (character === undefined) return text.length;
    const wantsValue: boolean = expecting === 'value' || expecting === 'valueOrEnd';
    const mayEnd = expecting === 'valueOrEnd' || expecting === 'keyOrEnd' || expecting === 'commaOrEnd';
    if (mayEnd && character === closers.at(-1)) {
      closers.pop();
      at += 1;
      expecting = afterValue();
    } else if (character === '"' && (wantsValue || expecting === 'key' || expecting === 'keyOrEnd')) {
      const end = stringEnd(text, at);
      if (end.fault) return end.index;
      at = end.index;
      expecting = wantsValue ? afterValue() : 'colon';
    } else if (wantsValue && (character === '{' || character === '[')) {
      closers.push(character === '{' ? '}' : ']');
      at += 1;
      expecting = character === '{' ? 'keyOrEnd' : 'valueOrEnd';
    } else if (expecting === 'colon' && character === ':') {
      at += 1;
      expecting = 'value';
    } else if (expecting === 'commaOrEnd' && character === ',') {
      at += 1;
      expecting = closers.at(-1) === '}' ? 'key' : 'value';
    } else if (wantsValue) {
      SCALAR.lastIndex = at;
      if (SCALAR.exec(text) === null) return at;
      at = SCALAR.lastIndex;
      expecting = afterValue();
    } else {
      return at;
    }
  }
}

function skipSpace(text: string, start: number): number {
  let at = start;
  for (let code = text.charCodeAt(at); code === 0x20 || (code >= 0x9 && code <= 0xd); ) {
    if (code === 0xb || code === 0xc) return at;
    at += 1;
    code = text.charCodeAt(at);
  }
  return at;
}

function stringEnd(text: string, start: number): { readonly index: number; readonly fault: boolean } {
  for (let i = start + 1; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 0x22) return { index: i + 1, fault: false };
    if (code < 0x20) return { index: i, fault: true };
    if (code === 0x5c) {
      const escaped = text[i + 1] ?? '';
      if (escaped === 'u') {
        if (!/^[0-9a-fA-F]{4}$/.test(text.slice(i + 2, i + 6))) return { index: i, fault: true };
        i += 5;
      } else if ('"\\/bfnrt'.includes(escaped)) {
        i += 1;
      } else {
        return { index: i, fault: true };
      }
    }
  }
  return { index: text.length, fault: true };
}
