// ---- The driver's signature as a page of its own with the words above it, as PDF. It is no photo
// ---- and is not counted as one.

const SHEET = { wide: 1224, high: 1584, margin: 60, pad: 620 }; // US letter at 144 dots an inch

const bytesOf = (text) => Array.from(text, (character) => character.charCodeAt(0));

// One page with one picture (ISO 32000-1: 7.5 file structure, 8.9.5 images, 7.9.4 dates).
function pdfOf(jpeg, stamp) {
  const { wide, high } = SHEET;
  const content = `q ${wide / 2} 0 0 ${high / 2} 0 0 cm /P Do Q`;
  const day = stamp.slice(0, 19).replace(/[-: ]/g, '');
  const zone = `${stamp.slice(19, 22)}'${stamp.slice(23)}'`;
  const image = `/Type /XObject /Subtype /Image /Width ${wide} /Height ${high} `
    + '/ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /DCTDecode';
  const objects = [
    ['<< /Type /Catalog /Pages 2 0 R >>'],
    ['<< /Type /Pages /Kids [3 0 R] /Count 1 >>'],
    [`<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${wide / 2} ${high / 2}] `
      + '/Resources << /XObject << /P 4 0 R >> >> /Contents 5 0 R >>'],
    [`<< ${image} /Length ${jpeg.length} >>`, jpeg],
    [`<< /Length ${content.length} >>`, bytesOf(content)],
    [`<< /CreationDate (D:${day}${zone}) /Producer (claimkit receiving page) >>`],
  ];
  const out = bytesOf('%PDF-1.4\n%\xe2\xe3\xcf\xd3\n');
  const put = (bytes) => { for (const byte of bytes) out.push(byte); };
  const places = objects.map(([head, stream], i) => {
    const place = out.length;
    put(bytesOf(`${i + 1} 0 obj\n${head}\n`));
    if (stream) {
      put(bytesOf('stream\n'));
      put(stream);
      put(bytesOf('\nendstream\n'));
    }
    put(bytesOf('endobj\n'));
    return place;
  });
  const table = out.length;
  const rows = places.map((place) => `${String(place).padStart(10, '0')} 00000 n \n`).join('');
  put(bytesOf(`xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows}`));
  put(bytesOf(`trailer\n<< /Size ${objects.length + 1} /Root 1 0 R /Info 6 0 R >>\n`));
  put(bytesOf(`startxref\n${table}\n%%EOF\n`));
  return Uint8Array.from(out);
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

// As large as all of it fits over the field: no word that is signed for may be missing.
function drawTexts(context, lines) {
  const { margin, wide, high, pad } = SHEET;
  for (const size of [36, 30, 25, 20, 16, 13, 10]) {
    const parts = lines.map((line, i) => {
      context.font = `${i ? '' : 'bold '}${size}px sans-serif`;
      return textLines(context, line, wide - 2 * margin);
    });
    const rows = parts.flat().length * size * 1.3 + parts.length * size * 0.45;
    if (margin + rows > high - pad - margin && size > 10) continue;
    let y = margin + size;
    parts.forEach((texts, i) => {
      context.font = `${i ? '' : 'bold '}${size}px sans-serif`;
      for (const text of texts) {
        context.fillText(text, margin, y);
        y += size * 1.3;
      }
      y += size * 0.45;
    });
    return;
  }
}

// `lines` are texts in order, the first as a title. Gives the bytes of the PDF.
function signedPage(lines, signature) {
  const { margin, wide, high, pad } = SHEET;
  const canvas = document.createElement('canvas');
  canvas.width = wide;
  canvas.height = high;
  const context = canvas.getContext('2d');
  context.fillStyle = '#fff';
  context.fillRect(0, 0, wide, high);
  context.fillStyle = '#000';
  drawTexts(context, lines);
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
  const base64 = canvas.toDataURL('image/jpeg', 0.92).split(',')[1];
  return pdfOf(bytesOf(atob(base64)), signature.at);
}
