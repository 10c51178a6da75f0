// ---- The words on the receipt, and the signatures under them.

function writeScreen(app) {
  const { data, entry } = app;
  const options = [['paper', 'paper'], ['device', 'device'], ['none', 'no-receipt']];
  return [
    choice(app, 'form', app.say('form'), options.map(([id, text]) => ({
      id, label: app.say(text), on: entry.form === id,
      act: () => { entry.form = entry.form === id ? null : id; },
    }))),
    entry.form === 'none' ? null : wordsPart(app, composed(data, entry, formOf(entry))),
  ];
}

function wordsPart(app, composedWords) {
  const { data, entry } = app;
  const text = composedWords.text();
  const wrote = entry.wrote;
  return h('section', { class: 'words' }, heading(app.say('words')),
    note(app.say('write-how')),
    receiptWords(composedWords.sentences(), 'large'),
    h('p', { class: 'note' }, app.say('letters', { n: text.length })),
    app.language === 'es' ? h('div', { class: 'meaning' }, heading(app.say('meaning')),
      h('p', null, composed(data, entry, 'es').text())) : null,
    act(app, 'copy', app.say('copy'), () => app.copy(text), 'quiet'),
    h('div', { class: 'options stacked' },
      pick(app, 'wrote-this', app.say('wrote-this'), wrote && wrote.how === 'this',
        () => write(entry, 'this', text), 'wide main'),
      pick(app, 'wrote-other', app.say('wrote-other'), wrote && wrote.how === 'other',
        () => write(entry, 'other', wrote ? wrote.text : text), 'wide'),
      pick(app, 'wrote-nothing', app.say('wrote-nothing'), wrote && wrote.how === 'nothing',
        () => write(entry, 'nothing', ''), 'wide')),
    wrote && wrote.how === 'other' ? ownWords(app) : null,
    wrote && wrote.how === 'this' && wrote.text !== text ? h('div', { class: 'notice' },
      h('p', null, app.say('words-changed')), receiptWords(wrote.text)) : null);
}

// Tapped again, an answer is taken back.
function write(entry, how, text) {
  const again = entry.wrote && entry.wrote.how === how && entry.wrote.text === text;
  entry.wrote = again ? null : { how, text };
}

function ownWords(app) {
  const { entry } = app;
  return h('label', { class: 'field' }, h('span', null, app.say('as-written')),
    h('textarea', {
      rows: 5, lang: 'en', 'data-key': 'own-words', class: 'receipt-words', autocomplete: 'off',
      value: entry.wrote.text,
      oninput: (event) => { entry.wrote.text = event.target.value; app.keep(); },
    }));
}

function signScreen(app) {
  const { entry } = app;
  if (entry.form === 'none') return [driverNamePart(app)];
  return [
    heading(app.say('photo-first')),
    receiptShot(app, 'before-signing'),
    choice(app, 'signed', app.say('we'), [
      [true, 'we-signed'], [false, 'we-declined'],
    ].map(([value, text]) => ({
      id: text, label: app.say(text), on: entry.signed === value,
      act: () => {
        entry.signed = entry.signed === value ? null : value;
        entry.signedAt = entry.signed ? stampOf(new Date()) : null;
      },
    }))),
    choice(app, 'driver-signed', app.say('driver'), [
      ['signed', 'driver-signed'], ['declined', 'driver-declined'], ['left', 'driver-left'],
    ].map(([id, text]) => ({
      id, label: app.say(text), on: entry.driverSigned === id,
      act: () => { entry.driverSigned = entry.driverSigned === id ? null : id; },
    })), 'stacked'),
    driverRefused(app),
    driverNamePart(app),
    h('div', { class: 'again' }, heading(app.say('photo-again')), receiptShot(app, 'signed')),
    signaturePart(app),
  ];
}

function receiptShot(app, id) {
  const row = app.data.receipt_shots.find((shot) => shot.id === id);
  return pick(app, `shot-${id}`, row[app.language], app.entry.receiptShots[id], () => {
    app.entry.receiptShots[id] = !app.entry.receiptShots[id];
  }, 'wide tick');
}

// Where the driver does not sign, the receipt says so; what was written is then longer.
function driverRefused(app) {
  const { data, entry } = app;
  if (entry.driverSigned !== 'declined' && entry.driverSigned !== 'left') return null;
  const [paper, handheld, spanish] = data.rules.phrases[entry.driverSigned];
  const words = formOf(entry) === 'short' ? handheld : paper;
  const there = entry.wrote !== null && entry.wrote.text.includes(words);
  return h('div', { class: 'words' }, note(app.say('write-that-too')), receiptWords(words, 'large'),
    app.language === 'es' ? h('p', { class: 'meaning' }, spanish) : null,
    pick(app, 'wrote-that', app.say('wrote-that'), there, () => {
      const before = entry.wrote ? entry.wrote.text : '';
      entry.wrote = there
        ? { how: 'other', text: before.replace(words, '').trim() }
        : { how: 'other', text: [before, words].filter(Boolean).join(' ') };
    }, 'wide'));
}

function driverNamePart(app) {
  const { entry } = app;
  return h('div', { class: 'driver' },
    field(app, 'driver', app.say('driver-name'), entry.driver, (text) => {
      entry.driver = text;
      entry.noDriverName = false;
    }),
    pick(app, 'no-name', app.say('no-name'), entry.noDriverName && !entry.driver, () => {
      entry.noDriverName = !entry.noDriverName;
      entry.driver = '';
    }));
}

function signaturePart(app) {
  const { entry } = app;
  return h('section', { class: 'signature' }, heading(app.say('signature')),
    entry.signature
      ? h('p', null, app.say('signed-here', { time: clockText(entry.signature.at) }))
      : note(app.say('signature-how')),
    entry.signature
      ? act(app, 'unsign', app.say('remove'), () => app.change(() => { entry.signature = null; }),
        'quiet')
      : act(app, 'open-pad', app.say('open-pad'), () => app.openPad(), 'quiet'));
}

// The pad: the words above, a field to sign in below. Strokes are kept, not a picture.
function padScreen(app) {
  const { data, entry } = app;
  const text = entry.wrote ? entry.wrote.text : composed(data, entry, formOf(entry)).text();
  const canvas = h('canvas', { class: 'pad', 'aria-label': app.say('pad'), role: 'img' });
  const strokes = [];
  const at = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const redraw = () => {
    const box = canvas.getBoundingClientRect();
    const ratio = window.devicePixelRatio || 1;
    canvas.width = box.width * ratio;
    canvas.height = box.height * ratio;
    const context = canvas.getContext('2d');
    context.scale(ratio, ratio);
    context.lineWidth = 3;
    drawStrokes(context, strokes, 0, 0, 1);
  };
  let drawing = false;
  const down = (event) => {
    event.preventDefault();
    drawing = true;
    strokes.push([at(event)]);
    redraw();
  };
  const move = (event) => {
    if (!drawing) return;
    strokes[strokes.length - 1].push(at(event));
    redraw();
  };
  const up = () => { drawing = false; };
  canvas.addEventListener('pointerdown', down);
  canvas.addEventListener('pointermove', move);
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  const keep = () => {
    const box = canvas.getBoundingClientRect();
    if (strokes.length) {
      entry.signature = {
        at: stampOf(new Date()), wide: box.width, high: box.height, strokes,
      };
    }
    app.change(() => { app.signing = false; });
  };
  return [
    receiptWords(text),
    note(app.say('pad')),
    canvas,
    h('div', { class: 'options three' },
      act(app, 'pad-done', app.say('done'), keep, 'main'),
      act(app, 'pad-clear', app.say('clear'), () => { strokes.length = 0; redraw(); }),
      act(app, 'pad-close', app.say('close'), () => app.change(() => { app.signing = false; }))),
  ];
}
