// ---- What is still open, and the record that leaves the telephone.

function saveScreen(app) {
  const { data, entry } = app;
  return [
    stamp(app, 'left', app.say('driver-gone'), entry.left, (at) => { entry.left = at; }),
    h('section', { class: 'open', id: 'open' }, openPart(app)),
    entry.saved.length ? pick(app, 'corrects',
      app.say('corrects', { time: clockText(entry.saved[entry.saved.length - 1].at) }),
      entry.corrects, () => { entry.corrects = !entry.corrects; }, 'wide tick') : null,
    act(app, 'save', app.say('save'), () => save(app), 'main large'),
    canShare() ? act(app, 'share', app.say('share'), () => share(app), 'large') : null,
    app.lastSaved ? h('section', { class: 'saved' },
      h('p', null, app.say('saved', { name: '' }), fromJob(app.lastSaved.name)),
      note(app.say('where-to')),
      h('details', null, h('summary', null, app.say('show-text')),
        h('pre', { class: 'record-text', lang: 'en' }, app.lastSaved.text),
        act(app, 'copy-text', app.say('copy-text'), () => app.copy(app.lastSaved.text)))) : null,
    entry.saved.length ? act(app, 'again', app.say(app.sure ? 'again-sure' : 'again'), () => {
      if (app.sure) app.begin();
      else app.change(() => { app.sure = true; });
    }, 'quiet') : null,
  ];
}

function openPart(app) {
  const open = openMatters(app.data, app.entry);
  if (!open.length) return [h('p', { class: 'note' }, app.say('nothing-open'))];
  return [
    heading(app.say('open-matters')),
    act(app, 'skip-all', app.say('skip-all'), () => app.change((entry) => {
      driverWouldNotWait(app.data, entry);
    }), 'main'),
    h('ul', null, open.map(([id, step, values]) => h('li', null,
      h('p', null, app.say(`open-${id}`, values)),
      h('div', { class: 'options' },
        step === app.entry.step ? null : act(app, `go-${id}`, app.say('go'), () => app.go(step)),
        act(app, `skip-${id}`, app.say('skip'), () => app.change((entry) => {
          entry.cleared[id] = true;
        })))))),
  ];
}

// What is saved: the record, and a page of its own where the driver signed on this telephone.
function outgoing(app, shared) {
  const { data, entry } = app;
  const now = new Date();
  const names = namesOf(data, entry, now);
  const { text, id } = recordOf(data, entry, now, names);
  const files = [new File([text], shared ? names.shared : names.toml, { type: 'text/plain' })];
  if (entry.signature) {
    const bytes = signedPage(signedLines(app), entry.signature);
    files.push(new File([bytes], names.signed, { type: 'application/pdf' }));
  }
  return { files, text, id, at: stampOf(now) };
}

function signedLines(app) {
  const { data, entry } = app;
  const shipment = shipmentOf(data, entry);
  const text = entry.wrote ? entry.wrote.text : composed(data, entry, formOf(entry)).text();
  return [
    data.job.title, [shipment.carrier, shipment.pro, shipment.bill].filter(Boolean).join('  '),
    text, [oneLine(entry.driver), entry.signature.at].filter(Boolean).join('  '),
  ];
}

function noteSaved(app, sent) {
  app.lastSaved = { name: sent.files.map((file) => file.name).join(', '), text: sent.text };
  app.change((entry) => { entry.saved.push({ id: sent.id, at: sent.at }); });
  app.tell(app.say('saved', { name: app.lastSaved.name }));
}

function save(app) {
  const sent = outgoing(app, false);
  for (const file of sent.files) {
    const url = URL.createObjectURL(file);
    const link = h('a', { href: url, download: file.name, hidden: true });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
  }
  noteSaved(app, sent);
}

// Sharing wants a plain text file: the folder takes .toml.txt as well.
function canShare() {
  try {
    const probe = new File(['x'], 'x.toml.txt', { type: 'text/plain' });
    return Boolean(navigator.canShare && navigator.canShare({ files: [probe] }));
  } catch {
    return false;
  }
}

async function share(app) {
  const sent = outgoing(app, true);
  try {
    await navigator.share({ files: sent.files });
  } catch (error) {
    if (error.name === 'AbortError') return;
    save(app);
    return;
  }
  noteSaved(app, sent);
}
