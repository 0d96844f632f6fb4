// A page that comes back because something was refused is read on from there: from the first field that will not do,
// else from the sentence that says so. A form nobody has read is filled in again first, where it stands on the page.
'use strict';
(() => {
  const FIELD = ':is(input:not([type="hidden"]), select, textarea)';
  const WRONG = `main :is(${FIELD}[aria-invalid="true"], fieldset.faulty ${FIELD})`;
  const SECRET = ['password', 'file'];

  function look() {
    const told = document.querySelector('main .error[role="alert"]');
    if (told) told.tabIndex = -1;
    (document.querySelector(WRONG) ?? told)?.focus();
  }

  const fields = (form) => [...form.elements].filter((one) => one.matches('input, select, textarea') && one.name && one.name !== 'csrfmiddlewaretoken');
  const same = (form, kept) => fields(form).filter((one) => one.type === 'hidden' && kept.getAll(one.name).includes(one.value)).length;

  // The form of the page that was sent: it goes to the same address, and has every field that was; the likest of several.
  function own(unread, kept) {
    const names = [...kept.keys()].filter((name) => name !== 'csrfmiddlewaretoken');
    const alike = [...document.querySelectorAll('form[method="post"]')].filter((form) => form !== unread && form.action === unread.action
      && names.every((name) => [...form.elements].some((one) => one.name === name)));
    return alike.sort((one, other) => same(other, kept) - same(one, kept))[0];
  }

  function put(field, values) {
    if (SECRET.includes(field.type)) return;
    if (field.type === 'checkbox' || field.type === 'radio') field.checked = values.includes(field.value);
    else if (values.length) field.value = values.shift();
    if (field.type !== 'hidden') field.dispatchEvent(new Event('input', { bubbles: true }));
    if (field.matches('select, [type="checkbox"], [type="radio"]')) field.dispatchEvent(new Event('change', { bubbles: true }));
  }

  function fill() {
    const unread = document.querySelector('form.unread');
    const kept = unread && new FormData(unread);
    const form = unread && own(unread, kept);
    if (!form) return;
    const values = new Map([...kept.keys()].map((name) => [name, kept.getAll(name)]));
    for (const one of fields(form)) put(one, values.get(one.name) ?? []);
    const box = unread.closest('[role="alert"]');
    box.querySelector('.filled-in').hidden = false;
    unread.remove();
    for (let part = form; part; part = part.parentElement) if (part.matches('details')) part.open = true;
    for (const part of form.querySelectorAll('details')) part.open = true;
    form.before(box);
  }

  document.addEventListener('main-again', look);
  fill();
  look();
})();
