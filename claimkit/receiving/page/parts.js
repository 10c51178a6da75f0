// ---- The pieces that every screen is made of. Everything typed or read from the job becomes text
// ---- nodes: no string is ever read as markup.

function h(tag, properties, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'value') element.value = value;
    else element.setAttribute(name, value === true ? '' : value);
  }
  for (const child of children.flat()) {
    if (child === null || child === undefined || child === false) continue;
    element.append(typeof child === 'object' ? child : document.createTextNode(String(child)));
  }
  return element;
}

// What the job says: never translated, in whatever language it was typed.
const fromJob = (text) => h('span', { class: 'job', translate: 'no' }, text);

// Words that stand on the receipt: always English.
// `text` may be sentences: each then begins a line of its own, to be copied one by one.
const receiptWords = (text, extra) =>
  h('p', { class: `receipt-words ${extra || ''}`, lang: 'en', translate: 'no' },
    [text].flat().map((sentence, i, all) =>
      h('span', null, i < all.length - 1 ? `${sentence} ` : sentence)));

// A button that stays pressed. `key` keeps the focus on it when the screen is drawn again.
function pick(app, key, label, pressed, act, kind) {
  return h('button', {
    type: 'button', class: `pick ${kind || ''}`, 'data-key': key,
    'aria-pressed': pressed ? 'true' : 'false',
    onclick: () => app.change(act),
  }, label);
}

function act(app, key, label, what, kind) {
  return h('button', {
    type: 'button', class: `act ${kind || ''}`, 'data-key': key, onclick: what,
  }, label);
}

// One of several: tapping the chosen one again takes it back.
function choice(app, key, legend, options, kind) {
  return h('fieldset', { class: `choice ${kind || ''}` },
    h('legend', null, legend),
    h('div', { class: 'options' }, options.map(
      (option) => pick(app, `${key}-${option.id}`, option.label, option.on, option.act, option.kind)
    )));
}

// `thing` tells apart, when read out, two steppers of the same label.
function stepper(app, key, label, value, set, thing) {
  const named = thing ? `${thing}, ${label}` : label;
  const shown = value === null ? app.say('unknown') : String(value);
  const button = (sign, by, word) => h('button', {
    type: 'button', class: 'step', 'data-key': `${key}-${word}`,
    // The number is in the name: a screen reader hears it where the focus stays.
    'aria-label': app.say(word, { what: named, n: shown }),
    onclick: () => app.change(() => set(Math.max(0, (value === null ? 0 : value) + by))),
  }, sign);
  return h('div', { class: 'stepper', role: 'group', 'aria-label': named },
    h('span', { class: 'stepper-label' }, label),
    button('−', -1, 'less'), h('output', null, shown), button('+', 1, 'more'));
}

// A time stamped by a tap; once stamped it can be moved back, stamped anew or taken away.
function stamp(app, key, label, value, set) {
  if (!value) {
    return h('button', {
      type: 'button', class: 'stamp', 'data-key': `${key}-stamp`,
      onclick: () => app.change(() => set(stampOf(new Date()))),
    }, label, h('small', null, app.say('not-stamped')));
  }
  return h('div', { class: 'stamped', role: 'group', 'aria-label': label },
    h('p', null, h('span', null, label), h('strong', null, clockText(value))),
    h('div', { class: 'options three' },
      act(app, `${key}-earlier`, app.say('earlier'), () => app.change(() => set(earlier(value, 5)))),
      act(app, `${key}-now`, app.say('now'), () => app.change(() => set(stampOf(new Date())))),
      act(app, `${key}-clear`, app.say('clear'), () => app.change(() => set(null)))));
}

function field(app, key, label, value, set) {
  return h('label', { class: 'field' }, h('span', null, label),
    h('input', {
      type: 'text', 'data-key': key, value, autocomplete: 'off', autocapitalize: 'words',
      // Typing does not draw the screen anew: the keyboard would go away.
      oninput: (event) => { set(event.target.value); app.keep(); app.refreshWaiting(); },
    }));
}

function notice(app, key, text) {
  if (app.entry.cleared[key]) return null;
  return h('div', { class: 'notice' }, h('p', null, text),
    act(app, `${key}-close`, app.say('close'), () => app.change((entry) => {
      entry.cleared[key] = true;
    })));
}

const note = (text) => h('p', { class: 'note' }, text);
const heading = (text) => h('h2', null, text);

// Numbers to tap, one for each piece as it stands there.
function numbers(app, key, legend, total, chosen, set) {
  const options = Array.from({ length: total }, (_, i) => ({
    id: i + 1,
    label: String(i + 1),
    on: chosen.includes(i + 1),
    act: () => set(chosen.includes(i + 1)
      ? chosen.filter((n) => n !== i + 1) : [...chosen, i + 1].sort((a, b) => a - b)),
    kind: 'number',
  }));
  return choice(app, key, legend, options, 'numbers');
}
