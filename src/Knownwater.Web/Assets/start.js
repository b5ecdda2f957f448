// Works the page out again while one types: the same form, the same answer, without leaving the field.
const form = document.querySelector('form[data-live]');
let waiting = 0, asked = 0, whole = false;

async function workOut() {
  const mine = ++asked;
  const body = new URLSearchParams(new FormData(form));
  body.set('act', 'plan');
  body.delete('use');
  let answer;
  try {
    answer = await fetch(form.action, { method: 'POST', body, headers: { 'X-Knownwater-Live': '1' } });
  } catch {
    return; // the button still stands
  }
  if (mine !== asked || !answer.headers.get('content-type')?.startsWith('text/html')) return;
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  const fresh = page.querySelector('form[data-live]');
  if (!fresh) return;
  if (whole) { // which fields there are depends on what was chosen
    whole = false;
    const at = document.activeElement?.id;
    // what was typed or ticked while the answer was under way stays
    const kept = [...form.elements].filter(e => e.name && (e.type === 'checkbox' ? e.checked !== body.has(e.name) : e.type === 'text' && e.value !== (body.get(e.name) ?? '')))
      .map(e => [e.id, e.value, e.checked]);
    form.replaceChildren(...fresh.childNodes);
    for (const [id, value, checked] of kept) {
      const field = document.getElementById(id);
      if (field?.type === 'checkbox') field.checked = checked;
      else if (field) field.value = value;
    }
    if (at) document.getElementById(at)?.focus();
    return;
  }
  for (const id of ['advice', 'ahead', 'tolerance-source']) {
    const now = page.getElementById(id), old = document.getElementById(id);
    if (!now || !old) continue;
    const at = old.contains(document.activeElement) ? document.activeElement : null;
    const place = at && (at.id || `[name="${at.name}"][value="${at.value}"]`);
    old.replaceWith(now);
    if (place) (at.id ? document.getElementById(place) : document.querySelector(place))?.focus();
  }
  for (const name of ['Advised', 'ToleranceFor', 'ToleranceFilled', 'ToleranceAbsolute', 'TolerancePercent']) {
    const now = page.getElementsByName(name)[0], old = form.elements[name];
    if (now && old && old !== document.activeElement) old.value = now.value;
  }
  for (const now of page.querySelectorAll('.unit[id]')) {
    const old = document.getElementById(now.id);
    if (old) old.textContent = now.textContent;
  }
}

form?.addEventListener('input', event => {
  const { name, type, localName } = event.target;
  if (name === 'AutomationPaused' || name === 'ExpiredLotReason') return;
  clearTimeout(waiting);
  whole ||= name === 'SteadyWater' || localName === 'select' && name !== undefined && !name.endsWith('DoubtKind');
  waiting = setTimeout(workOut, type === 'text' ? 500 : 0);
});
