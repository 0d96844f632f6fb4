// Where a form asks for a position or a time zone, the device's own is offered.
'use strict';
(() => {
  function offer(longitude) {
    const { form, name } = longitude;
    const latitude = form.elements[name.replace('longitude', 'latitude')];
    const row = document.createElement('div');
    row.className = 'cell compass';
    // It comes and goes with the field it fills.
    row.dataset.field = name;
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = 'Where I stand';
    const told = document.createElement('span');
    told.className = 'small';
    told.setAttribute('role', 'status');
    row.append(button, told);
    longitude.closest('.cell').after(row);
    button.addEventListener('click', () => {
      told.textContent = 'Looking.';
      navigator.geolocation.getCurrentPosition(
        ({ coords }) => {
          latitude.value = coords.latitude.toFixed(5);
          longitude.value = coords.longitude.toFixed(5);
          told.textContent = `To about ${Math.round(coords.accuracy)} m.`;
        },
        () => { told.textContent = 'The device does not tell. Enter both by hand.'; },
        { enableHighAccuracy: true, timeout: 15000 },
      );
    });
  }

  function look() {
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    for (const field of document.querySelectorAll('input[data-zone]')) field.value ||= zone;
    if (navigator.geolocation) document.querySelectorAll('form [name$="longitude"]').forEach(offer);
  }

  look();
  document.addEventListener('main-again', look);
})();
