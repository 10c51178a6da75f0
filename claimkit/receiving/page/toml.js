// ---- A record as TOML 1.0, whatever was typed. What is written reads back equal.

const SHORT_ESCAPES = {
  '\b': '\\b', '\t': '\\t', '\n': '\\n', '\f': '\\f', '\r': '\\r', '"': '\\"', '\\': '\\\\',
};
// Controls, and line ends that some editors show and TOML does not have.
const NEEDS_ESCAPE = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]/;

// Half a character (a lone surrogate) can stand in no file: it becomes the replacement character.
function wellFormed(text) {
  let out = '';
  for (const character of text) {
    const code = character.codePointAt(0);
    out += code >= 0xd800 && code <= 0xdfff ? '\ufffd' : character;
  }
  return out;
}

function tomlString(value) {
  const text = wellFormed(value);
  // Inch marks and backslashes stay legible in single quotes where nothing needs an escape.
  const literal = /["\\]/.test(text) && !text.includes("'");
  if (literal && !NEEDS_ESCAPE.test(text)) return `'${text}'`;
  let out = '';
  for (const character of text) {
    if (SHORT_ESCAPES[character]) out += SHORT_ESCAPES[character];
    else if (NEEDS_ESCAPE.test(character)) {
      out += '\\u' + character.codePointAt(0).toString(16).padStart(4, '0');
    } else out += character;
  }
  return `"${out}"`;
}

function tomlValue(value) {
  if (Array.isArray(value)) return `[${value.map(tomlValue).join(', ')}]`;
  return typeof value === 'string' ? tomlString(value) : String(value);
}

// Pairs of key and value; what is null is left out. Comments are fixed texts on one line each.
function tomlRecord(comments, pairs) {
  const lines = comments.map((comment) => `# ${comment}\n`);
  for (const [key, value] of pairs) {
    if (value !== null && value !== undefined) lines.push(`${key} = ${tomlValue(value)}\n`);
  }
  return lines.join('');
}
