// ---- The words for the carrier's copy. Phrases and choices are data of the rules; here they are
// ---- chosen and filled as claimkit itself does it, and a test holds the two together.

const FORMS = { long: 0, short: 1, es: 2 };
// The characters that Python takes for spaces.
const SPACES = /[\t-\r\x1c- \x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/;

const oneLine = (text) => text.split(SPACES).filter(Boolean).join(' ');

function filled(phrase, values) {
  const [first, ...parts] = phrase.split('{');
  return parts.reduce((text, part) => {
    const end = part.indexOf('}');
    return text + String(values[part.slice(0, end)]) + part.slice(end + 1);
  }, first);
}

class Words {
  constructor(rules, shipment, curb, form) {
    Object.assign(this, { rules, shipment, curb, form, at: FORMS[form] });
  }

  // Exceptions come first, the reservation last.
  sentences() {
    const counts = this.counts();
    const found = this.found();
    const full = counts.length || (found.length && this.form === 'short') ? '' : this.full();
    const said = [...counts, ...found, full, this.inTheWrap(), this.inspection()];
    return said.filter(Boolean);
  }

  text() {
    return this.sentences().join(' ');
  }

  counts() {
    const said = [];
    for (const [counts, name] of this.counted()) {
      if (counts.expected === null || counts.received === null) continue;
      const missing = counts.expected - counts.received;
      if (!missing) continue;
      said.push(this.phrase(missing > 0 ? 'short' : 'over', {
        ...this.nouns(name, Math.abs(missing)),
        many: this.nouns(name, counts.expected).noun,
        count: Math.abs(missing),
        received: counts.received,
        expected: counts.expected,
      }));
    }
    return said;
  }

  full() {
    const parts = [];
    for (const [counts, name] of this.counted()) {
      const asListed = counts.expected === null || counts.expected === counts.received;
      if (!counts.received || !asListed) continue;
      parts.push(this.phrase(counts.expected === null ? 'full alone' : 'full', {
        received: counts.received,
        expected: counts.expected,
        many: this.nouns(name, counts.received).noun,
      }));
    }
    const between = this.rules.joins[this.form === 'short' ? 'short counts' : this.form][0];
    return parts.length ? this.phrase('received', { list: parts.join(between) }) : '';
  }

  found() {
    const said = this.curb.seen.map((seen) => this.damage(seen));
    const rest = [['wrap', 'wrap_broken'], ['tilt', 'tilt'], ['shock', 'shock']];
    for (const [key, field] of rest) {
      const numbers = this.curb[field];
      if (!numbers.length) continue;
      const units = { on: 'unit', numbers, count: 1 };
      said.push(this.phrase(key, { which: this.which(units, true) }));
    }
    return said;
  }

  inTheWrap() {
    if (!this.curb.cartons_in_wrap) return '';
    return this.phrase('in the wrap', this.nouns(this.shipment.carton, 2));
  }

  inspection() {
    const { inspected, because } = this.curb;
    if (inspected === 'no' && because) {
      return this.phrase('not inspected', { because: this.chosen('because', because) });
    }
    const answered = inspected === 'opened' || inspected === 'outside';
    return this.phrase(answered ? inspected : 'not answered', {});
  }

  counted() {
    return [
      [this.curb.units, this.shipment.unit], [this.curb.cartons, this.shipment.carton],
    ];
  }

  damage(seen) {
    const values = {
      where: this.chosen('where', seen.where),
      kind: this.chosen('kind', seen.kind),
      size: this.chosen('size', seen.size),
    };
    const key = values.size ? 'found with size' : 'found';
    const found = this.phrase(key, values).replace(/^[ ,]+/, '').trimEnd();
    const which = this.which(seen, seen.refused);
    return this.phrase(seen.refused ? 'refused' : 'damage', { which, found });
  }

  which(seen, inside) {
    const unique = [...new Set(seen.numbers)].sort((a, b) => a - b);
    const count = unique.length || seen.count;
    const item = this.shipment.items.find((one) => one.id === seen.on);
    if (item) {
      const key = item.quantity === 1 ? 'item' : 'some of an item';
      return this.whichPhrase(key, { name: item.name[this.at][0], count });
    }
    const counts = seen.on === 'unit' ? this.curb.units : this.curb.cartons;
    const total = counts.expected || counts.received || null;
    const numbers = total === 1 ? [1] : unique;
    const name = seen.on === 'unit' ? this.shipment.unit : this.shipment.carton;
    const nouns = this.nouns(name, count);
    const listed = this.listed(numbers);
    const key = whichKey(numbers, count, total);
    return this.whichPhrase(key === 'all' && inside ? 'all inside' : key, {
      ...nouns,
      One: inside ? nouns.one : nouns.One,
      count,
      total,
      number: listed,
      numbers: listed,
    });
  }

  chosen(what, value) {
    if (!value) return '';
    const choice = choicesOf(this.rules, what).find((one) => one.id === value);
    if (!choice) {
      const own = oneLine(value);
      return this.form === 'short' ? own.toUpperCase() : own;
    }
    if (this.form === 'es') return choice.label.es.toLowerCase();
    return this.form === 'long' ? choice.long : choice.short;
  }

  nouns(name, count) {
    const [one, many] = name[this.at];
    const noun = count === 1 ? one : many;
    return { one, many, noun, One: capital(one), Many: capital(many) };
  }

  listed(numbers) {
    const [between, last] = this.rules.joins[this.form];
    if (numbers.length < 2) return numbers.join('');
    return numbers.slice(0, -1).join(between) + last + numbers[numbers.length - 1];
  }

  phrase(key, values) {
    return filled(this.rules.phrases[key][this.at], values);
  }

  whichPhrase(key, values) {
    return filled(this.rules.which[key][this.at], values);
  }
}

function choicesOf(rules, what) {
  if (what === 'size') return Object.values(rules.sizes).flat();
  return { kind: rules.kinds, where: rules.wheres, because: rules.reasons }[what];
}

function whichKey(numbers, count, total) {
  if (total === null) return ['some alone', 'one alone'][numbers.length] || 'several';
  if (total === 1) return 'one';
  if (count === total) return 'all';
  return ['some', 'one'][numbers.length] || 'several';
}

const capital = (text) => (/^[\x00-\x7f]/.test(text) ? text[0].toUpperCase() + text.slice(1) : text);

function wordsFor(rules, shipment, curb, form) {
  return new Words(rules, shipment, curb, form).text();
}
