// ---- What was entered, and the record that comes of it.

function emptyEntry() {
  return {
    version: 1, step: 0, language: null, who: null, whoName: '', shipment: null,
    arrived: null, left: null, signedAt: null,
    shots: {}, receiptShots: {},
    unitsOnPaper: undefined, units: null, cartonsOnPaper: undefined, cartons: null, inWrap: false,
    wrap: null, wrapUnits: [], indicators: null, tripped: {}, tilt: [], shock: [],
    inspected: null, because: null, noDamage: false, damages: [],
    form: null, wrote: null, signed: null, driverSigned: null, driver: '', noDriverName: false,
    signature: null, cleared: {}, saved: [], corrects: true,
  };
}

// Whether anything but the language and the screen was entered.
function isBegun(entry) {
  const plain = (one) => JSON.stringify({ ...one, step: 0, language: null, cleared: {} });
  return plain(entry) !== plain(emptyEntry());
}

const shipmentOf = (data, entry) => data.job.shipments[entry.shipment === null ? 0 : entry.shipment];

// What the driver's paper lists: the bill's number until another is entered.
function onPaper(data, entry, what) {
  const entered = entry[`${what}OnPaper`];
  return entered === undefined ? shipmentOf(data, entry)[what] : entered;
}

// How many there are to number, for picking which.
function totalOf(data, entry, what) {
  return onPaper(data, entry, what) || entry[what] || null;
}

// Wrap and indicators are of handling units; where there is one, it is that one.
function unitsOf(data, entry, numbers) {
  return totalOf(data, entry, 'units') === 1 ? [1] : numbers;
}

function curbOf(data, entry) {
  const tripped = entry.indicators === 'tripped';
  return {
    units: { expected: onPaper(data, entry, 'units'), received: entry.units },
    cartons: { expected: onPaper(data, entry, 'cartons'), received: entry.cartons },
    cartons_in_wrap: entry.inWrap,
    seen: entry.damages.map((damage) => ({
      on: damage.on, numbers: damage.numbers, count: damage.count, kind: damage.kind || damage.own,
      where: damage.where, size: damage.size, refused: damage.refused,
    })),
    wrap_broken: entry.wrap === 'broken' ? unitsOf(data, entry, entry.wrapUnits) : [],
    tilt: tripped && entry.tripped.tilt ? unitsOf(data, entry, entry.tilt) : [],
    shock: tripped && entry.tripped.shock ? unitsOf(data, entry, entry.shock) : [],
    inspected: entry.inspected,
    because: entry.because,
  };
}

function composed(data, entry, form) {
  return new Words(data.rules, shipmentOf(data, entry), curbOf(data, entry), form);
}

const formOf = (entry) => (entry.form === 'device' ? 'short' : 'long');

function shortName(name) {
  const plain = name.normalize('NFKD').replace(/[\u0300-\u036f]/g, '').toLowerCase();
  return plain.replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 30) || 'x';
}

function personOf(data, entry) {
  const people = data.job.people;
  if (entry.who !== null) return people[entry.who];
  if (people.length === 1) return people[0];
  const name = oneLine(entry.whoName);
  return name ? { id: shortName(name), name } : null;
}

// Why the goods were not inspected, where they were not.
function notInspectedBecause(data, entry) {
  if (entry.inspected === 'outside') return data.rules.outside_only;
  if (entry.inspected !== 'no' || !entry.because) return null;
  const choice = data.rules.reasons.find((reason) => reason.id === entry.because);
  return choice ? choice.long : entry.because;
}

function refusedText(data, entry) {
  const curb = curbOf(data, entry);
  const refused = curb.seen.filter((seen) => seen.refused);
  if (!refused.length) return null;
  const words = new Words(data.rules, shipmentOf(data, entry), curb, 'long');
  return refused.map((seen) => words.damage({ ...seen, refused: false })).join(' ');
}

function shotsComment(rows, taken) {
  return rows.filter((row) => taken[row.id]).map((row) => row.en).join('; ');
}

function commentsOf(data, entry) {
  const comments = [data.rules.record_begins];
  const taken = shotsComment(data.shots, entry.shots);
  const receipt = shotsComment(data.receipt_shots, entry.receiptShots);
  if (taken || receipt) {
    comments.push(`Photos said to be taken: ${[taken, receipt].filter(Boolean).join('; ')}.`);
  }
  if (entry.driverSigned === 'left') comments.push('The driver would not wait.');
  return comments;
}

function receiptForm(entry) {
  return { paper: 'paper', device: "driver's device", none: 'none' }[entry.form] || null;
}

function driverSignedValue(entry) {
  return entry.driverSigned === null ? null : entry.driverSigned === 'signed';
}

// The record as comments and pairs of key and value, in the order of the work.
function recordOf(data, entry, now, names) {
  const person = personOf(data, entry);
  const shipment = shipmentOf(data, entry);
  const earlierRecord = entry.corrects && entry.saved.length
    ? entry.saved[entry.saved.length - 1] : null;
  const wrote = entry.wrote;
  const pairs = [
    ['kind', 'delivery'],
    ['said_by', person ? person.id : 'unknown'],
    ['written', stampOf(now)],
    ['replaces', earlierRecord ? earlierRecord.id : null],
    ['reason', earlierRecord ? 'corrected on the receiving page' : null],
    ['shipment', shipment.id],
    ['arrived', entry.arrived],
    ['driver_left', entry.left],
    ['receipt', receiptForm(entry)],
    ['inspected', entry.inspected === null ? null : entry.inspected === 'opened'],
    ['not_inspected_because', notInspectedBecause(data, entry)],
    ['wrap', entry.wrap],
    ['units_expected', entry.units === null ? null : onPaper(data, entry, 'units')],
    ['units_received', entry.units],
    ['cartons_expected', entry.cartons === null ? null : onPaper(data, entry, 'cartons')],
    ['cartons_received', entry.cartons],
    ['words', wrote ? wrote.text : null],
    ['words_by', wrote && wrote.text && person ? person.name : null],
    ['driver', oneLine(entry.driver) || null],
    ['signed', entry.signed],
    ['driver_signed', driverSignedValue(entry)],
    ['signed_at', entry.signed ? entry.signedAt : null],
    ['refused', refusedText(data, entry)],
    ['photos', entry.signature ? [`records/${names.signed}`] : null],
  ];
  // A file that lost its end on the way is still TOML: its last line tells that it is whole.
  const text = tomlRecord(commentsOf(data, entry), pairs) + `# ${data.rules.record_ends}\n`;
  return { text, id: names.id };
}

function namesOf(data, entry, now) {
  const shipment = shipmentOf(data, entry);
  const of = shipment.id ? `-${shortName(shipment.id)}` : '';
  const id = `delivery${of}-${fileStamp(stampOf(now))}`;
  return { id, toml: `${id}.toml`, shared: `${id}.toml.txt`, signed: `${id}-signature.pdf` };
}

// ---- What is still open, in the order of the work: [id, step, values for its text].
function openMatters(data, entry) {
  const open = [];
  const ask = (id, step, isOpen, values) => {
    if (isOpen && !entry.cleared[id]) open.push([id, step, values || {}]);
  };
  ask('who', 0, personOf(data, entry) === null);
  ask('shipment', 0, entry.shipment === null && data.job.shipments.length > 1);
  ask('arrived', 0, entry.arrived === null);
  const untaken = data.shots.filter((shot) => !entry.shots[shot.id]).length;
  ask('photos', 1, untaken > 0, { n: untaken });
  ask('units', 2, entry.units === null);
  const someCartons = onPaper(data, entry, 'cartons') !== null;
  ask('cartons', 2, someCartons && entry.cartons === null && !entry.inWrap);
  ask('wrap', 3, entry.wrap === null);
  ask('indicators', 3, entry.indicators === null);
  ask('which', 3, whichIsOpen(entry, curbOf(data, entry)));
  ask('inspected', 3, entry.inspected === null);
  ask('damage', 3, !entry.damages.length && !entry.noDamage);
  ask('form', 4, entry.form === null);
  ask('words', 4, entry.wrote === null && entry.form !== 'none');
  const receipt = entry.form !== 'none';
  ask('before-signing', 5, receipt && !entry.receiptShots['before-signing']);
  ask('signed', 5, receipt && entry.signed === null);
  ask('driver-signed', 5, receipt && entry.driverSigned === null);
  ask('driver', 5, !oneLine(entry.driver) && !entry.noDriverName);
  ask('after', 5, receipt && entry.signed === true && !entry.receiptShots.signed);
  ask('left', 6, entry.left === null);
  ask('order', 6, outOfOrder(entry));
  return open;
}

// Broken wrap or a tripped indicator, and not on which unit: the receipt cannot say it yet.
function whichIsOpen(entry, curb) {
  const tripped = (name) => entry.indicators === 'tripped' && entry.tripped[name];
  return (entry.wrap === 'broken' && !curb.wrap_broken.length)
    || (tripped('tilt') && !curb.tilt.length) || (tripped('shock') && !curb.shock.length);
}

function outOfOrder(entry) {
  const stamps = [entry.arrived, entry.signed ? entry.signedAt : null, entry.left].filter(Boolean);
  return stamps.some((stamp, i) => i > 0 && dateOf(stamp) < dateOf(stamps[i - 1]));
}

// One tap answers everything that only the driver's waiting would have allowed.
function driverWouldNotWait(data, entry) {
  if (entry.inspected === null) entry.inspected = 'no';
  if (entry.inspected === 'no' && !entry.because) entry.because = 'would-not-wait';
  if (entry.driverSigned === null) entry.driverSigned = 'left';
  for (const [id] of openMatters(data, entry)) entry.cleared[id] = true;
}
