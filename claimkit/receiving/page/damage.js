// ---- One damage, picked in four taps: on what and which, what, where, how big.

const MOST_NUMBERS = 24;

function emptyDamage(data, entry) {
  const on = onPaper(data, entry, 'cartons') || entry.cartons ? 'carton' : 'unit';
  return {
    on, numbers: [], count: 1, kind: null, own: '', where: null, size: null, refused: false,
  };
}

function thingLabel(app, on) {
  const shipment = shipmentOf(app.data, app.entry);
  const at = app.language === 'es' ? FORMS.es : FORMS.long;
  if (on === 'unit' || on === 'carton') return fromJob(capital(shipment[on][at][0]));
  return fromJob(shipment.items.find((item) => item.id === on).name[FORMS.long][0]);
}

function totalFor(app, on) {
  if (on === 'unit') return totalOf(app.data, app.entry, 'units');
  if (on === 'carton') return totalOf(app.data, app.entry, 'cartons');
  return shipmentOf(app.data, app.entry).items.find((item) => item.id === on).quantity;
}

function damageScreen(app, damage) {
  const items = shipmentOf(app.data, app.entry).items;
  const option = (on) => ({
    id: on, label: thingLabel(app, on), on: damage.on === on,
    act: () => Object.assign(damage, { on, numbers: [], count: 1 }),
  });
  return [
    note(app.say('photograph-it')),
    choice(app, 'on', app.say('on-what'), ['carton', 'unit'].map(option)),
    items.length ? h('details', { open: items.some((item) => item.id === damage.on) },
      h('summary', null, app.say('piece-of-order')),
      choice(app, 'item', app.say('piece-of-order'), items.map((item) => option(item.id)), 'stacked')
    ) : null,
    whichPart(app, damage),
    kindPart(app, damage),
    pickOne(app, 'where', 'where', app.data.rules.wheres, damage, 'where', 'places'),
    pickOne(app, 'size', 'size', app.data.rules.sizes[app.data.job.sizes], damage, 'size', 'sizes'),
    pick(app, 'refused', app.say('refused'), damage.refused, () => {
      damage.refused = !damage.refused;
    }, 'wide'),
    act(app, 'remove-damage', app.say('remove'), () => app.change((entry) => {
      entry.damages = entry.damages.filter((one) => one !== damage);
      app.editing = null;
    }), 'quiet'),
  ];
}

function whichPart(app, damage) {
  const total = totalFor(app, damage.on);
  const isItem = damage.on !== 'unit' && damage.on !== 'carton';
  if (total === 1) return null;
  if (isItem || total === null || total > MOST_NUMBERS) {
    return stepper(app, 'how-many', app.say('how-many'), damage.count, (n) => {
      damage.count = Math.max(1, total === null ? n : Math.min(n, total));
    });
  }
  return h('div', null,
    numbers(app, 'which', app.say('which'), total, damage.numbers, (chosen) => {
      damage.numbers = chosen;
    }),
    note(app.say('which-hint')));
}

function kindPart(app, damage) {
  const picked = pickOne(app, 'kind', 'what', app.data.rules.kinds, damage, 'kind', 'kinds', {
    id: 'own', label: app.say('something-else'), on: damage.own !== '' && !damage.kind,
    act: () => Object.assign(damage, { kind: null, own: damage.own || ' ' }),
  });
  if (damage.kind || damage.own === '') return picked;
  return h('div', null, picked, field(app, 'own', app.say('own-words'), damage.own.trim(), (text) => {
    damage.own = text || ' ';
  }));
}

function pickOne(app, key, legend, choices, target, name, kind, more) {
  const options = choices.map((one) => ({
    id: one.id, label: one.label[app.language], on: target[name] === one.id,
    act: () => { target[name] = target[name] === one.id ? null : one.id; },
  }));
  return choice(app, key, app.say(legend), more ? [...options, more] : options, kind);
}

// One line on the list of damages, in the words of the receipt.
function damageLine(app, damage, index) {
  const curb = curbOf(app.data, app.entry);
  const form = app.language === 'es' ? 'es' : 'long';
  const words = new Words(app.data.rules, shipmentOf(app.data, app.entry), curb, form);
  return h('div', { class: 'damage' },
    h('p', { class: 'job' }, words.damage(curb.seen[index])),
    act(app, `edit-${index}`, app.say('change'), () => app.edit(damage)));
}
