// The crew's day without signal: the page is kept, and what is told waits on the phone until it can be sent.
'use strict';
(() => {
  const RETRY_MS = 30000;
  const DUE_MS = 2000;
  const ALERT = '[role="alert"]';
  const SIGN_IN = 'You are signed out. Load the page and sign in: what waits here is sent then.';
  const who = document.querySelector('[data-who]').dataset.who;
  const place = `to-send ${who}`;
  const bar = () => document.getElementById('heard');
  const offered = new Set();
  let busy = false;
  let noSignal = false;

  const every = (selector, act) => document.querySelectorAll(selector).forEach(act);
  const waiting = () => JSON.parse(localStorage.getItem(place) || '[]');
  const keep = (rows) => localStorage.setItem(place, JSON.stringify(rows));
  const token = () => document.querySelector('[name="csrfmiddlewaretoken"]').value;

  // By how many milliseconds this phone's clock is ahead of the house's, as learnt from the newest page that came in.
  function ahead() {
    const known = JSON.parse(localStorage.getItem('clock') || 'null');
    const now = Number(bar().dataset.now);
    if (known && known.now >= now) return known.ahead;
    const learnt = { now, ahead: Date.now() - now };
    localStorage.setItem('clock', JSON.stringify(learnt));
    return learnt.ahead;
  }

  function clock(zone, at = Date.now()) {
    const right = new Date(at - ahead());
    return new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone: zone }).format(right);
  }

  function line(row) {
    if (row.refused) return `Not taken: ${row.says}. ${row.refused}${row.wrote ? ` You wrote: ${row.wrote}` : ''}`;
    const wait = row.wait ? ` Wait until ${row.wait.says}; then go on or leave here.` : '';
    const left = row.left ? ' Which boat could be begun next is not known without signal: call the owner.' : '';
    return row.asks ? `Not sent yet: ${row.says}. ${row.asks}` : `To be sent: ${row.says}.${wait}${left}`;
  }

  function offer(words, done) {
    const button = Object.assign(document.createElement('button'), { type: 'button', textContent: words });
    button.addEventListener('click', done);
    bar().append(button);
  }

  // Which boat was meant: a yes is sent with the report, a no takes it off the phone.
  function mean(asked, said) {
    const meant = { ...asked, asks: '', fields: [...asked.fields, ['sure', said]] };
    keep(waiting().flatMap((row) => (row.id !== asked.id ? [row] : said === 'yes' ? [meant] : [])));
    send();
  }

  // What a wait at a shut gate leads to, told where there is no signal: the next row is kept behind it.
  function after(row, act, words) {
    const { minutes, boat, zone } = row.wait;
    const id = `${Date.now()}-${Math.random().toString(36).slice(2)}`;
    const fields = [...row.fields.filter(([name]) => name === 'on'), ['do', act], ['told_as', id], ['made_at', Date.now()], ['ahead', ahead()]];
    const made = { id, address: row.address, fields, says: `${words}, ${clock(zone)}`, wrote: '', left: act === 'leave' };
    if (act === 'on') made.wait = waits({ minutes, boat, zone });
    keep([...waiting().map((one) => (one.id === row.id ? { ...one, wait: undefined } : one)), made]);
    told(true);
  }

  function waits({ minutes, boat, zone }) {
    const due = Date.now() + minutes * 60000;
    return { minutes, boat, zone, due, says: clock(zone, due) };
  }

  function offerAfter(row) {
    const { minutes, boat } = row.wait;
    for (const [act, words] of [['leave', `Leave ${boat}, held for the owner`], ['on', `Wait ${minutes} min more for ${boat}`]]) {
      offer(words, () => { after(row, act, words); });
    }
  }

  function told(silent, first) {
    const rows = waiting();
    const lines = rows.map(line);
    noSignal = Boolean(silent);
    if (silent) lines.unshift(`No signal: this page is as of ${bar().dataset.asOf}.`);
    if (first) lines.unshift(first);
    bar().replaceChildren(...lines.map((line) => Object.assign(document.createElement('p'), { textContent: line })));
    if (rows.some((row) => row.refused)) {
      offer('I have read what was not taken', () => { keep(waiting().filter((row) => !row.refused)); told(silent); });
    }
    const asked = rows.find((row) => row.asks);
    if (asked) {
      offer(`Yes: ${asked.says}`, () => { mean(asked, 'yes'); });
      offer('No, do not send it', () => { mean(asked, 'no'); });
    }
    rows.filter((row) => row.wait && !row.refused && Date.now() >= row.wait.due).forEach(offerAfter);
    bar().hidden = lines.length === 0;
  }

  function post(address, fields) {
    const body = new FormData();
    for (const [name, value] of fields) body.append(name, value);
    body.set('csrfmiddlewaretoken', token());
    body.set('sent_at', Date.now());
    return fetch(address, { method: 'POST', body, redirect: 'manual', headers: { 'X-Requested-With': 'fetch' } });
  }

  // What was taken leads back to the route; whoever is signed out is told so, as a script cannot be led to sign in.
  const taken = (answer) => answer.type === 'opaqueredirect';
  const signedOut = (answer) => answer.status === 401;

  async function sentence(answer) {
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    return page.querySelector(`${ALERT} p, p${ALERT}`)?.textContent.trim() || 'Tell the owner.';
  }

  // One after the other, in the order they were told; none past one that is asked about.
  const next = () => { const row = waiting().find((one) => !one.refused); return row?.asks ? undefined : row; };

  async function send() {
    if (busy) return;
    busy = true;
    let sent = 0;
    try {
      for (let row = next(); row; row = next()) {
        const answer = await post(row.address, row.fields);
        if (answer.status >= 500) throw new Error(answer.statusText);
        if (signedOut(answer)) { told(false, SIGN_IN); return; }
        if (answer.status === 409) {
          const asks = await sentence(answer);
          keep(waiting().map((one) => (one.id === row.id ? { ...one, asks } : one)));
          break;
        }
        const rest = waiting().filter((one) => one.id !== row.id);
        const refused = taken(answer) ? '' : await sentence(answer);
        keep(refused ? [...rest, { ...row, refused }] : rest);
        sent += 1;
      }
      told(false);
      if (sent) location.reload();
    } catch {
      told(true);
    } finally {
      busy = false;
    }
  }

  // The same report sent again keeps its word, so that the house takes it once whichever answer was lost.
  function report(form, button) {
    const body = new FormData(form, button);
    const says = JSON.stringify([...body].map(([name, value]) => [name, value.size ?? value]));
    if (form.dataset.says !== says) {
      form.dataset.says = says;
      form.dataset.toldAs = `${Date.now()}-${Math.random().toString(36).slice(2)}`;
    }
    body.set('told_as', form.dataset.toldAs);
    return body;
  }

  // What was written stays to be read where it is not taken.
  function written(form) {
    const fields = [...form.querySelectorAll('textarea, input[type="text"]')].filter((one) => one.value.trim());
    return fields.map((one) => `“${one.value.trim()}”`).join(', ');
  }

  function put(form, button) {
    const body = report(form, button);
    const zone = form.closest('[data-zone]').dataset.zone;
    body.set('made_at', Date.now());
    body.set('ahead', ahead());
    if (body.getAll('photos').some((file) => file.size)) {
      told(true);
      bar().append(Object.assign(document.createElement('p'), { textContent: 'Photos want signal: send them later.' }));
      return;
    }
    body.delete('csrfmiddlewaretoken');
    body.delete('photos');
    const at = body.get('at') || clock(zone);
    const says = `${button.getAttribute('aria-label') || button.textContent}, ${at}`;
    const act = body.get('do');
    const wait = form.dataset.waits && act !== 'leave' ? waits({ minutes: Number(form.dataset.waits), boat: form.dataset.boat, zone }) : undefined;
    const left = Boolean(form.dataset.waits) && act === 'leave';
    keep([...waiting(), { id: body.get('told_as'), address: form.action, fields: [...body], says, wrote: written(form), wait, left }]);
    form.querySelectorAll('button').forEach((one) => { one.disabled = true; });
    told(true);
    bar().scrollIntoView();
  }

  async function submitted(event) {
    const form = event.target;
    if (!form.matches('form.report') || !event.submitter) return;
    event.preventDefault();
    const button = event.submitter;
    button.setAttribute('aria-busy', 'true');
    try {
      const answer = await post(form.action, [...report(form, button)]);
      if (taken(answer)) { location.reload(); return; }
      if (signedOut(answer)) { put(form, button); told(false, SIGN_IN); return; }
      const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
      document.getElementById('main').replaceWith(page.getElementById('main'));
      document.querySelector(ALERT)?.scrollIntoView();
      document.dispatchEvent(new Event('main-again'));
    } catch {
      put(form, button);
    } finally {
      button.removeAttribute('aria-busy');
    }
  }

  // What comes when a wait is over stands in the page, unseen until then.
  function due() {
    every('form[data-due]', (form) => {
      if (!form.hidden || Date.now() - ahead() < Number(form.dataset.due)) return;
      form.hidden = false;
      form.parentElement.querySelector('.not-due').hidden = true;
    });
    const over = waiting().filter((row) => row.wait && Date.now() >= row.wait.due && !offered.has(row.id));
    over.forEach((row) => offered.add(row.id));
    if (over.length) told(noSignal);
  }

  ahead();
  // Before `once.js`, which leaves alone what is prevented already.
  document.addEventListener('submit', submitted, true);
  for (const out of document.querySelectorAll('form.out')) out.addEventListener('submit', () => { window.caches?.delete('route-1'); });
  window.addEventListener('online', send);
  setInterval(() => { if (next()) send(); }, RETRY_MS);
  setInterval(due, DUE_MS);
  navigator.serviceWorker?.register('/route/worker.js', { scope: '/route/' });
  fetch('/static/leeboard/mark.svg', { method: 'HEAD', cache: 'no-store' }).then(send, () => told(true));
})();
