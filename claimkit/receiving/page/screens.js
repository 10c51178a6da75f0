// ---- The steps up to the receipt, in the order of the work.

function truckScreen(app) {
  const { data, entry } = app;
  const shipment = shipmentOf(data, entry);
  return [
    h('section', { class: 'safety' }, heading(app.say('safety')),
      h('ul', null, data.safety.map((row) => h('li', null, row[app.language])))),
    peoplePart(app),
    data.job.shipments.length > 1 ? choice(app, 'shipment', app.say('which-shipment'),
      data.job.shipments.map((one, i) => ({
        id: i, label: [fromJob(one.id), ' ', fromJob(one.carrier)], on: entry.shipment === i,
        act: () => app.choose(i),
      }))) : null,
    stamp(app, 'arrived', app.say('arrived'), entry.arrived, (at) => { entry.arrived = at; }),
    h('dl', { class: 'facts' },
      fact(app, 'carrier', shipment.carrier), fact(app, 'pro', shipment.pro),
      fact(app, 'bill', shipment.bill)),
    data.job.calls.length ? h('section', { class: 'calls' }, heading(app.say('call')),
      data.job.calls.map(([name, number]) => h('p', null,
        h('a', { href: `tel:${number.replace(/[^+\d]/g, '')}`, class: 'job' },
          h('span', null, name), ' ', h('span', null, number))))) : null,
  ];
}

const fact = (app, key, value) =>
  (value ? h('div', null, h('dt', null, app.say(key)), h('dd', null, fromJob(value))) : null);

function peoplePart(app) {
  const { data, entry } = app;
  if (data.job.people.length === 1) return null;
  if (!data.job.people.length) {
    return field(app, 'your-name', app.say('your-name'), entry.whoName, (text) => {
      entry.whoName = text;
    });
  }
  return choice(app, 'who', app.say('who'), data.job.people.map((person, i) => ({
    id: i, label: fromJob(person.name), on: entry.who === i,
    act: () => { entry.who = entry.who === i ? null : i; },
  })));
}

function photosScreen(app) {
  const { data, entry } = app;
  return [
    note(app.say('photos-how')),
    act(app, 'all-taken', app.say('all-taken'), () => app.change(() => {
      for (const row of data.shots) entry.shots[row.id] = true;
    }), 'main'),
    h('ol', { class: 'shots' }, data.shots.map((row) => h('li', null,
      pick(app, `shot-${row.id}`, row[app.language], entry.shots[row.id], () => {
        entry.shots[row.id] = !entry.shots[row.id];
      }, 'wide tick')))),
  ];
}

function countScreen(app) {
  const { data, entry } = app;
  const unit = shipmentOf(data, entry).unit[app.language === 'es' ? FORMS.es : FORMS.long][1];
  return [
    countPart(app, 'units', capital(unit), fromJob(capital(unit)), null),
    countPart(app, 'cartons', app.say('cartons'), app.say('cartons'), pick(
      app, 'in-wrap', app.say('in-wrap'), entry.inWrap, () => {
        entry.inWrap = !entry.inWrap;
        if (entry.inWrap) entry.cartons = null;
      }, 'wide'
    )),
  ];
}

function countPart(app, what, name, label, more) {
  const { data, entry } = app;
  const listed = onPaper(data, entry, what);
  const set = (n) => {
    entry[what] = n;
    if (what === 'cartons') entry.inWrap = false;
  };
  return h('section', { class: 'count' }, heading(label),
    stepper(app, `${what}-paper`, app.say('on-paper'), listed, (n) => {
      entry[`${what}OnPaper`] = n;
    }, name),
    stepper(app, what, app.say('here'), entry[what], set, name),
    listed ? pick(app, `${what}-all`, app.say('all-here', { n: listed }), entry[what] === listed,
      () => set(entry[what] === listed ? null : listed), 'wide main') : null,
    more);
}

function lookScreen(app) {
  const { data, entry } = app;
  return [
    note(`${app.say('look-how')} ${data.look.map((row) => row[app.language]).join(' · ')}`),
    choice(app, 'wrap', app.say('wrap'), ['intact', 'broken'].map((id) => ({
      id, label: app.say(id), on: entry.wrap === id,
      act: () => { entry.wrap = entry.wrap === id ? null : id; },
    }))),
    entry.wrap === 'broken' ? onWhich(app, 'wrapUnits') : null,
    indicatorsPart(app),
    choice(app, 'inspected', app.say('inspected'), [
      ['outside', 'outside'], ['opened', 'opened'], ['no', 'not-at-all'],
    ].map(([id, text]) => ({
      id, label: app.say(text), on: entry.inspected === id,
      act: () => { entry.inspected = entry.inspected === id ? null : id; },
    })), 'stacked'),
    entry.inspected === 'no'
      ? pickOne(app, 'because', 'why-not', data.rules.reasons, entry, 'because', 'stacked') : null,
    h('section', { class: 'damages' }, heading(app.say('damage')),
      entry.damages.map((damage, i) => damageLine(app, damage, i)),
      act(app, 'add-damage', app.say('add-damage'), () => {
        const damage = emptyDamage(data, entry);
        app.change(() => { entry.damages.push(damage); entry.noDamage = false; });
        app.edit(damage);
      }, 'main'),
      entry.damages.length ? null : pick(app, 'no-damage', app.say('no-damage'), entry.noDamage,
        () => { entry.noDamage = !entry.noDamage; }, 'wide')),
  ];
}

// Which units broken wrap or a tripped indicator is on; where there is one, it is that one.
function onWhich(app, name) {
  const total = totalOf(app.data, app.entry, 'units');
  if (!total || total === 1) return null;
  return numbers(app, name, app.say('on-which'), Math.min(total, MOST_NUMBERS), app.entry[name],
    (chosen) => { app.entry[name] = chosen; });
}

function indicatorsPart(app) {
  const { entry } = app;
  const plain = (id, text) => ({
    id, label: app.say(text), on: entry.indicators === id,
    act: () => {
      const indicators = entry.indicators === id ? null : id;
      Object.assign(entry, { indicators, tripped: {}, tilt: [], shock: [] });
    },
  });
  const tripped = (id, text) => ({
    id, label: app.say(text), on: Boolean(entry.tripped[id]),
    act: () => {
      entry.tripped[id] = !entry.tripped[id];
      entry.indicators = entry.tripped.tilt || entry.tripped.shock ? 'tripped' : null;
    },
  });
  return h('div', null,
    choice(app, 'indicators', app.say('indicators'), [
      plain('none', 'none-fitted'), plain('untripped', 'not-tripped'),
      tripped('tilt', 'tilt-tripped'), tripped('shock', 'shock-tripped'),
    ]),
    entry.tripped.tilt ? onWhich(app, 'tilt') : null,
    entry.tripped.shock ? onWhich(app, 'shock') : null);
}
