// On a phone the names of the pages stand in one row that is moved sideways: the page one is on is in sight.
'use strict';
document.querySelector('.top nav [aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'center' });
