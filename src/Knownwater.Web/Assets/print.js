// Shows the print button where the browser can print, and opens every table first.
for (const button of document.querySelectorAll('[data-print]')) {
  button.hidden = false;
  button.addEventListener('click', () => window.print());
}
window.addEventListener('beforeprint', () => document.querySelectorAll('details').forEach(d => { d.dataset.was = d.open ? '1' : ''; if (!d.hasAttribute('data-act')) d.open = true; }));
window.addEventListener('afterprint', () => document.querySelectorAll('details').forEach(d => { d.open = d.dataset.was === '1'; }));
