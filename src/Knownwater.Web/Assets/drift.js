// The picture of a course at hand: a card beside the chosen point, keys from point to point, a span drawn across it.
const shortest = 14, gap = 12, whole = 864e5; // days, px, ms
const within = (x, low, high) => Math.max(low, Math.min(x, high));
const span = days => days.split(' ').map(day => Date.parse(day) / whole);
const iso = day => new Date(day * whole).toISOString().slice(0, 10);
const chord = e => e.ctrlKey || e.altKey || e.metaKey;
const add = (to, html) => { to.insertAdjacentHTML('beforeend', html); return to.lastElementChild; };
const teller = add(document.getElementById('main'), '<p class="hidden" role="status"></p>');
let pictures = [];

function picture(fig) {
  const svg = fig.querySelector('svg'), course = fig.closest('[data-shown]');
  const points = [...svg.querySelectorAll('[data-card]')].sort((a, b) => a.dataset.day - b.dataset.day);
  const at = e => e.target.closest('[data-card]');
  const card = add(fig, '<div class="point-card" hidden><p></p><a tabindex="-1">Open the check</a></div>'), [lines, open] = card.children;
  svg.after(card);
  let shown, held, later; // held: by key or finger, so it stays
  let from = null, drawn = null; // where the pointer came down; the band since
  let before, pointer; // what stood open then

  function show(point) {
    clearTimeout(later);
    shown = point;
    card.hidden = !point;
    if (!point) return;
    lines.textContent = point.dataset.card;
    open.href = point.getAttribute('href');
    place();
  }

  function place() {
    if (!shown) return;
    const frame = fig.getBoundingClientRect(), all = svg.getBoundingClientRect(), needs = card.offsetHeight + gap;
    // clear of the whole interval, or of the mark alone
    const parts = [...shown.querySelectorAll('.err, .sig-err, .pt, .sig')].map(e => e.getBoundingClientRect()), mark = parts.at(-1);
    const room = b => [b.top - all.top, all.bottom - b.bottom], box = parts.find(b => Math.max(...room(b)) >= needs) ?? mark;
    const [over, under] = room(box), above = over > under;
    card.classList.toggle('above', above);
    card.style.left = `${within(mark.left + mark.width / 2 - card.offsetWidth / 2, all.left, all.right - card.offsetWidth) - frame.left}px`;
    card.style.top = `${(above ? box.top - needs : box.bottom + gap) - frame.top}px`;
  }

  const on = (name, act) => svg.addEventListener(name, act);
  const hold = point => show(held = point);
  const leave = () => { clearTimeout(later); later = setTimeout(() => show(held), 300); };
  const drop = () => { drawn?.remove(); from = null; };
  card.addEventListener('pointerenter', () => clearTimeout(later));
  card.addEventListener('pointerleave', leave);
  card.addEventListener('mousedown', e => e.preventDefault()); // the point keeps the focus
  const hover = (name, act) => on(name, e => { if (e.pointerType === 'mouse' && from === null && at(e)) act(at(e)); });
  hover('pointerover', show);
  hover('pointerout', leave);
  // an svg that listens for focus would be a stop of the Tab key itself
  fig.addEventListener('focusin', e => {
    if (!at(e)) return;
    for (const point of points) point.tabIndex = point === at(e) ? 0 : -1;
    hold(at(e));
  });
  fig.addEventListener('focusout', e => { if (!card.contains(e.relatedTarget)) hold(null); });
  on('pointerdown', e => {
    [before, pointer, drawn] = [shown, e.pointerType, null];
    from = course && e.isPrimary && !e.button ? e.clientX : null;
  });
  on('click', e => {
    const point = at(e);
    if (drawn && e.detail) e.preventDefault();
    else if (point && e.detail && pointer !== 'mouse' && point !== before) {
      e.preventDefault();
      hold(point);
      teller.textContent = 'Tap again to open the check.';
    }
  });

  for (const point of points) {
    point.tabIndex = -1;
    point.querySelector('title').remove(); // the card takes its place; the label stays
  }
  if (points.length) points.at(-1).tabIndex = 0;

  on('keydown', e => {
    const i = points.indexOf(at(e)), signalled = point => point.matches('.is-high, .is-low');
    if (i < 0 || chord(e)) return;
    const to = {
      ArrowLeft: points[i - 1], ArrowRight: points[i + 1], Home: points[0], End: points.at(-1),
      PageUp: points.slice(0, i).filter(signalled).pop(), PageDown: points.slice(i + 1).find(signalled),
    };
    const factor = { '+': .5, '=': .5, '-': 2 }[e.key];
    if (course && factor) {
      const [[first, last], [a, b]] = [course.dataset.all, course.dataset.shown].map(span), days = Math.max(shortest, Math.round((b - a) * factor));
      turn(days < last - first ? address(within(Math.round(points[i].dataset.day - days / 2), first, last - days), days) : location.pathname);
    } else if (course && e.shiftKey && e.key.startsWith('Arrow')) named(course, e.key === 'ArrowLeft' ? 'Earlier' : 'Later')?.click();
    else if (e.key in to) to[e.key]?.focus();
    else return;
    e.preventDefault();
  });

  if (course) {
    const [left, right, first, last] = svg.dataset.time.split(' ').map(Number); // %, days
    const across = (x, box = svg.getBoundingClientRect()) => within((x - box.left) / box.width * 100, left, right);
    const ends = (e, of) => [of(from), of(e.clientX)].sort((a, b) => a - b);
    svg.classList.add('by-hand');
    on('dragstart', e => e.preventDefault());
    on('pointercancel', drop);
    on('pointermove', e => {
      if (from === null || !e.isPrimary) return;
      if (!e.buttons) drop();
      else if (drawn || Math.abs(e.clientX - from) > gap) {
        if (!drawn) {
          svg.setPointerCapture(e.pointerId);
          hold(null);
          drawn = add(svg, '<rect class="drawn" height="100%"/>');
        }
        const [a, b] = ends(e, across);
        drawn.setAttribute('x', `${a}%`);
        drawn.setAttribute('width', `${b - a}%`);
      }
    });
    on('pointerup', e => {
      if (from !== null && drawn) {
        const [a, b] = ends(e, x => Math.round(first + (across(x) - left) / (right - left) * (last - first))), days = Math.max(shortest, b - a);
        turn(address(Math.round((a + b - days) / 2), days));
      }
      drop();
    });
  }

  return { points, place, hold, drop };
}

// Another span: that part of the page is fetched anew.
const address = (from, days) => `${location.pathname}?from=${iso(from)}&to=${iso(from + days)}`;
const named = (part, words) => [...part.querySelectorAll('.acts a')].find(a => a.textContent === words);
let asked = 0, here = location.search;

async function turn(to, back) {
  const mine = ++asked, answer = await fetch(to).catch(() => null);
  const fresh = answer?.ok && new DOMParser().parseFromString(await answer.text(), 'text/html').querySelector('[data-shown]');
  if (mine !== asked) return;
  if (!fresh) return void location.assign(to);
  if (!back) history.pushState(null, '', to);
  here = location.search;
  const old = document.querySelector('[data-shown]'), was = old.contains(document.activeElement) && document.activeElement;
  fresh.querySelector('details').open = old.querySelector('details').open;
  old.replaceWith(fresh);
  begin();
  const away = point => Math.abs(point.dataset.day - was.dataset.day);
  if (was) ((was.dataset.day ? [...pictures[0].points].sort((a, b) => away(a) - away(b))[0] : named(fresh, was.textContent)) ?? fresh.querySelector('.acts a'))?.focus();
  teller.textContent = fresh.dataset.said;
}

function begin() {
  pictures = [...document.querySelectorAll('.fig')].map(picture);
  document.querySelector('[data-keys]')?.removeAttribute('hidden');
}

const each = act => pictures.forEach(act);
addEventListener('keydown', e => { if (e.key === 'Escape') each(p => { p.drop(); p.hold(null); }); });
addEventListener('pointerup', e => { if (!e.target.closest?.('.point-card, [data-card]')) each(p => p.hold(null)); });
addEventListener('resize', () => each(p => p.place()));
addEventListener('popstate', () => { if (here !== location.search) turn(location.href, true); });
addEventListener('click', e => {
  const link = e.target.closest('[data-shown] > .acts a');
  if (!link || e.shiftKey || chord(e)) return;
  e.preventDefault();
  turn(link.href);
});
begin();
