// ---- The driver's signature as a PNG with the words above it, dated like a photo.

const PICTURE = { wide: 1200, high: 1600, margin: 60, pad: 620 };

// Table of CRC-32 as PNG uses it (W3C PNG specification, annex D).
const CRC_TABLE = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

function crc32(bytes) {
  let c = 0xffffffff;
  for (const byte of bytes) c = CRC_TABLE[(c ^ byte) & 0xff] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

const bytesOf = (text) => Array.from(text, (character) => character.charCodeAt(0));
const long = (n) => [n & 0xff, (n >>> 8) & 0xff, (n >>> 16) & 0xff, (n >>> 24) & 0xff];
const word = (n) => [n & 0xff, (n >>> 8) & 0xff];
const big = (n) => long(n).reverse();

// A TIFF block with two directories: what made the picture, and when, with the offset from UTC.
function exifBlock(stamp) {
  const texts = [
    [0x0110, 'receiving page'], [0x0131, 'claimkit receiving page'],
    [0x9003, stamp.slice(0, 19).replace(/-/g, ':')], [0x9011, stamp.slice(19)],
  ].map(([tag, text]) => [tag, bytesOf(`${text}\0`)]);
  const first = 8;
  const second = first + 2 + 3 * 12 + 4;
  let free = second + 2 + 2 * 12 + 4;
  const data = [];
  const entry = ([tag, bytes]) => {
    const row = [...word(tag), ...word(2), ...long(bytes.length), ...long(free)];
    const even = bytes.length % 2 ? [...bytes, 0] : bytes; // TIFF 6.0: values begin at even places
    data.push(...even);
    free += even.length;
    return row;
  };
  const rows = texts.map(entry);
  const toSecond = [...word(0x8769), ...word(4), ...long(1), ...long(second)];
  return [
    ...bytesOf('II'), ...word(42), ...long(first),
    ...word(3), ...rows[0], ...rows[1], ...toSecond, ...long(0),
    ...word(2), ...rows[2], ...rows[3], ...long(0),
    ...data,
  ];
}

// Put the block behind the PNG's head (8 bytes of signature and the IHDR chunk of 25).
function withExif(png, stamp) {
  const block = exifBlock(stamp);
  const named = [...bytesOf('eXIf'), ...block];
  const chunk = Uint8Array.from([...big(block.length), ...named, ...big(crc32(named))]);
  const head = 8 + 25;
  const out = new Uint8Array(png.length + chunk.length);
  out.set(png.subarray(0, head));
  out.set(chunk, head);
  out.set(png.subarray(head), head + chunk.length);
  return out;
}

function textLines(context, text, wide) {
  const lines = [''];
  for (const part of text.split(/(\s+)/)) {
    const longer = lines[lines.length - 1] + part;
    if (context.measureText(longer).width > wide && lines[lines.length - 1]) {
      lines.push(part.trimStart());
    } else lines[lines.length - 1] = longer;
  }
  return lines;
}

function drawStrokes(context, strokes, left, top, scale) {
  context.lineCap = 'round';
  context.lineJoin = 'round';
  for (const stroke of strokes) {
    context.beginPath();
    stroke.forEach(([x, y], i) => {
      const at = [left + x * scale, top + y * scale];
      if (i) context.lineTo(...at);
      else context.moveTo(...at);
    });
    const [x, y] = stroke[0];
    if (stroke.length === 1) context.lineTo(left + x * scale + 0.1, top + y * scale);
    context.stroke();
  }
}

// `lines` are texts in order, the first as a title. Gives the PNG's bytes.
function signaturePicture(lines, signature) {
  const canvas = document.createElement('canvas');
  canvas.width = PICTURE.wide;
  canvas.height = PICTURE.high;
  const context = canvas.getContext('2d');
  const { margin, wide, high, pad } = PICTURE;
  context.fillStyle = '#fff';
  context.fillRect(0, 0, wide, high);
  context.fillStyle = '#000';
  let y = margin + 40;
  lines.forEach((line, i) => {
    context.font = `${i ? '' : 'bold '}36px sans-serif`;
    for (const part of textLines(context, line, wide - 2 * margin)) {
      if (y < high - pad - margin) context.fillText(part, margin, y);
      y += 48;
    }
    y += 16;
  });
  const top = high - pad - margin / 2;
  context.strokeStyle = '#000';
  context.lineWidth = 3;
  context.strokeRect(margin, top, wide - 2 * margin, pad - margin / 2);
  context.lineWidth = 7;
  const scale = Math.min(
    (wide - 2 * margin) / signature.wide, (pad - margin / 2) / signature.high
  );
  drawStrokes(context, signature.strokes, margin, top, scale);
  // Not toBlob: a browser may put that off for a second.
  const base64 = canvas.toDataURL('image/png').split(',')[1];
  return withExif(Uint8Array.from(atob(base64), (c) => c.charCodeAt(0)), signature.at);
}
