// The walk-round on a phone: hides what is known already, reads the compass, keeps chosen photos while it reckons.
'use strict';
function walkRound() {
  const form = document.querySelector('form.walk');
  if (!form) return;
  const field = (name) => form.elements[name];
  // An empty book offers no boat and no customer to choose.
  const chosen = (name) => field(name)?.value ?? '';

  function show(part, shown) {
    for (const cell of form.querySelectorAll(`[data-field^="${part}."]`)) cell.hidden = !shown;
  }

  function sift() {
    const boat = chosen('boat');
    show('boat', !boat);
    for (const part of ['customer', 'place']) {
      for (const cell of form.querySelectorAll(`[data-field="${part}"]`)) cell.hidden = Boolean(boat);
      show(part, !boat && !chosen(part));
    }
    for (const group of form.querySelectorAll('fieldset')) {
      const cells = [...group.querySelectorAll('[data-field]')];
      group.hidden = cells.length > 0 && cells.every((cell) => cell.hidden);
    }
  }

  function beside(name, words) {
    const row = document.createElement('div');
    row.className = 'cell compass';
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = words;
    const told = document.createElement('span');
    told.className = 'small';
    told.setAttribute('role', 'status');
    row.append(button, told);
    // It comes and goes with the field it fills.
    row.dataset.field = name;
    form.querySelector(`[data-field="${name}"]`).after(row);
    return { button, told };
  }

  // Common practice: a phone's compass is magnetic; the page of the place holds the declination.
  function compass() {
    if (!('DeviceOrientationEvent' in window)) return;
    const { button, told } = beside('lies.heading_deg', 'Read the compass');
    const idle = button.textContent;
    let last = null;
    let heard = '';

    function turned(event) {
      const by = event.webkitCompassHeading;
      if (by === undefined && (!event.absolute || event.alpha === null)) return;
      const angle = screen.orientation ? screen.orientation.angle : 0;
      last = Math.round((by ?? 360 - event.alpha + angle) + 360) % 360;
      told.textContent = `${String(last).padStart(3, '0')}° by compass`;
    }

    function stop() {
      window.removeEventListener(heard, turned);
      heard = '';
      button.textContent = idle;
    }

    async function start() {
      const ask = DeviceOrientationEvent.requestPermission;
      if (ask && (await ask.call(DeviceOrientationEvent)) !== 'granted') {
        told.textContent = 'The phone does not let this page read its compass. Enter the heading by hand.';
        return;
      }
      last = null;
      heard = 'ondeviceorientationabsolute' in window ? 'deviceorientationabsolute' : 'deviceorientation';
      window.addEventListener(heard, turned);
      button.textContent = 'Take this heading';
      told.textContent = 'Hold the phone flat, its top along her bow.';
    }

    button.addEventListener('click', () => {
      if (!heard) { start(); return; }
      stop();
      if (last === null) {
        told.textContent = 'No compass was heard. Enter the heading by hand.';
        return;
      }
      field('lies.heading_deg').value = last;
      field('lies.heading_reference').value = 'magnetic';
    });
  }

  // What the server says of the form takes this page's place; the photos that were chosen stay chosen.
  async function reckoned() {
    const asked = new FormData(form);
    asked.delete('photos');
    asked.set('do', 'reckon');
    const answer = await fetch(form.action, { method: 'POST', body: asked });
    if (!answer.ok && answer.status !== 422) throw new Error(answer.statusText);
    return { sound: answer.ok, page: new DOMParser().parseFromString(await answer.text(), 'text/html') };
  }

  function showAnswer(page) {
    const main = page.getElementById('main');
    main.querySelector('#photos').replaceWith(field('photos'));
    document.getElementById('main').replaceWith(main);
    walkRound();
    document.dispatchEvent(new Event('main-again'));
    const told = main.querySelector('#reckoned, [aria-invalid="true"]') ?? main.querySelector('[role="alert"]');
    told?.scrollIntoView();
    told?.focus();
  }

  form.addEventListener('submit', async (event) => {
    if (form.dataset.checked || !event.submitter) return;
    event.preventDefault();
    const button = event.submitter;
    button.setAttribute('aria-busy', 'true');
    try {
      const { sound, page } = await reckoned();
      if (!sound || button.value === 'reckon') { showAnswer(page); return; }
    } catch {
      // No answer, or none of this page's: let the browser send it and tell what comes.
    }
    form.dataset.checked = 'yes';
    form.requestSubmit(button);
  });

  compass();
  for (const name of ['boat', 'customer', 'place']) field(name)?.addEventListener('change', sift);
  sift();
}
walkRound();
