// ---- The page itself: one entry, one screen at a time, drawn anew after every tap.

const STEPS = [
  ['truck', truckScreen], ['photos', photosScreen], ['count', countScreen], ['look', lookScreen],
  ['write', writeScreen], ['sign', signScreen], ['save-step', saveScreen],
];

class App {
  constructor(data) {
    this.data = data;
    this.draft = new Draft(data.job.id);
    const kept = this.draft.read();
    this.entry = kept ? { ...emptyEntry(), ...kept.entry } : emptyEntry();
    this.restoredAt = kept && isBegun(this.entry) ? kept.at : null;
    this.reset();
    this.draft.keep(this.entry);
    this.sound();
  }

  reset() {
    Object.assign(this, { editing: null, signing: false, sure: false, lastSaved: null });
  }

  // A draft of an older page may name what this job no longer has.
  sound() {
    const { entry, data } = this;
    if (entry.shipment !== null && !data.job.shipments[entry.shipment]) entry.shipment = null;
    if (entry.who !== null && !data.job.people[entry.who]) entry.who = null;
    const items = shipmentOf(data, entry).items.map((item) => item.id);
    entry.damages = entry.damages.filter((one) => ['unit', 'carton', ...items].includes(one.on));
  }

  get language() {
    if (this.entry.language) return this.entry.language;
    return (navigator.language || 'en').toLowerCase().startsWith('es') ? 'es' : 'en';
  }

  say(key, values) {
    const text = this.data.texts[key][this.language === 'es' ? 1 : 0];
    return values ? filled(text, values) : text;
  }

  // Said aloud and shown for a while.
  tell(text) {
    const said = document.getElementById('said');
    said.textContent = text;
    clearTimeout(this.telling);
    this.telling = setTimeout(() => { said.textContent = ''; }, 4000);
  }

  keep() {
    this.draft.keep(this.entry);
  }

  change(what) {
    what(this.entry);
    this.keep();
    this.draw();
  }

  choose(shipment) {
    // Counts and pieces of one shipment are not those of another.
    const fresh = emptyEntry();
    for (const name of ['unitsOnPaper', 'units', 'cartonsOnPaper', 'cartons', 'damages']) {
      this.entry[name] = fresh[name];
    }
    this.entry.shipment = shipment;
  }

  go(step) {
    this.reset();
    this.change((entry) => { entry.step = Math.min(Math.max(step, 0), STEPS.length - 1); });
    this.top();
  }

  edit(damage) {
    this.editing = damage;
    this.draw();
    this.top();
  }

  openPad() {
    this.signing = true;
    this.draw();
    this.top();
  }

  begin() {
    this.draft.forget();
    const language = this.entry.language;
    this.entry = { ...emptyEntry(), language };
    this.restoredAt = null;
    this.go(0);
  }

  top() {
    window.scrollTo(0, 0);
    document.querySelector('h1').focus({ preventScroll: true });
  }

  async copy(text) {
    try {
      await navigator.clipboard.writeText(text);
      this.tell(this.say('copied'));
    } catch {
      this.tell(this.copyOldWay(text) ? this.say('copied') : this.say('not-copied'));
    }
  }

  // Where a page from a file may not use the clipboard.
  copyOldWay(text) {
    const area = h('textarea', { value: text, readonly: true, class: 'away' });
    document.body.append(area);
    area.select();
    let done = false;
    try {
      done = document.execCommand('copy');
    } catch {
      done = false;
    }
    area.remove();
    return done;
  }

  // Typing does not draw the screen anew, but what waits for it may be answered now.
  refreshWaiting() {
    const open = document.getElementById('open');
    if (open) open.replaceChildren(...openPart(this));
  }

  draw() {
    const focused = document.activeElement && document.activeElement.dataset.key;
    const scrolled = window.scrollY;
    document.documentElement.lang = this.language;
    document.title = this.say('title', { job: this.data.job.title });
    document.getElementById('page').replaceChildren(...this.screen());
    const again = focused && document.querySelector(`[data-key="${CSS.escape(focused)}"]`);
    if (again) again.focus({ preventScroll: true });
    window.scrollTo(0, scrolled);
  }

  screen() {
    const [name, body] = STEPS[this.entry.step];
    if (this.signing) return [this.head(this.say('signature')), h('main', null, padScreen(this))];
    if (this.editing) {
      return [
        this.head(this.say('one-damage')),
        h('main', null, damageScreen(this, this.editing)),
        h('footer', null, act(this, 'damage-done', this.say('done'), () => {
          this.editing = null;
          this.draw();
          this.top();
        }, 'main')),
      ];
    }
    return [
      this.head(this.say(name)), h('main', null, this.notices(), body(this)), this.footer(),
    ];
  }

  head(title) {
    const step = this.say('step', { n: this.entry.step + 1, all: STEPS.length });
    return h('header', null,
      h('div', { class: 'bar' },
        h('p', { class: 'where' }, step, h('br'), fromJob(this.data.job.title)),
        h('button', {
          type: 'button', class: 'language', 'data-key': 'language',
          lang: this.language === 'es' ? 'en' : 'es',
          onclick: () => this.change((entry) => {
            entry.language = this.language === 'es' ? 'en' : 'es';
          }),
        }, this.say('other-language'))),
      h('div', { class: 'progress', 'aria-hidden': 'true' },
        STEPS.map((_, i) => h('span', { class: i <= this.entry.step ? 'past' : null }))),
      h('h1', { tabindex: -1 }, title));
  }

  notices() {
    const now = new Date();
    const site = siteOffset(this.data.job.zone, now);
    const phone = offsetText(now);
    const differs = site !== null && site !== phone;
    return [
      this.draft.denied ? notice(this, 'draft-denied', this.say('draft-denied')) : null,
      this.restoredAt && this.entry.step === 0
        ? notice(this, 'draft-kept', this.say('draft-kept', { time: clockText(this.restoredAt) }))
        : null,
      differs && this.entry.step === 0 ? notice(this, 'zone-differs',
        this.say('zone-differs', { phone: `UTC${phone}`, site: `UTC${site}` })) : null,
      stampOf(now).slice(0, 10) < this.data.job.made ? notice(this, 'clock-behind',
        this.say('clock-behind', { made: this.data.job.made })) : null,
    ];
  }

  footer() {
    const { step } = this.entry;
    const last = step === STEPS.length - 1;
    const mayLeave = step >= 1 && step <= 4;
    return h('footer', null,
      step > 0 ? act(this, 'back', this.say('back'), () => this.go(step - 1)) : null,
      mayLeave ? act(this, 'leaving', this.say('leaving'), () => this.leaving(), 'alarm') : null,
      last ? null : act(this, 'next', this.say('next'), () => this.go(step + 1), 'main'));
  }

  // One tap: the reason is noted and the words come up, reservation included.
  leaving() {
    this.change((entry) => {
      if (entry.inspected === null) Object.assign(entry, { inspected: 'no', because: 'would-not-wait' });
      if (entry.driverSigned === null) entry.driverSigned = 'left';
    });
    this.go(4);
  }
}

function start() {
  const data = JSON.parse(document.getElementById('data').textContent);
  const app = new App(data);
  app.draw();
  if (window.location.protocol === 'https:' || window.location.hostname === 'localhost') {
    document.head.append(h('link', { rel: 'manifest', href: 'manifest.webmanifest' }));
    if ('serviceWorker' in navigator) navigator.serviceWorker.register('sw.js').catch(() => {});
  }
  return { data, app, tomlRecord, wordsFor, recordOf, namesOf, openMatters };
}

// For the tests and for nothing else: the page's own functions, under one name.
window.claimkit = start();
