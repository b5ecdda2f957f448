// The run sheet at the bench. Every press becomes an event that is first kept on this device, then sent in order until the records
// have answered it; so the network may drop, the page be loaded anew, the program stop, and nothing is lost or written twice.
const sheet = document.getElementById('run');
const $ = name => document.getElementById('run-' + name);
const plan = JSON.parse(sheet.dataset.steps);
const steps = plan.steps.map(([kind, where, act, cue, done, seconds, signal, why, caution]) => ({
  kind, where: plan.texts[where], seconds, signal: signal === 1, act: plan.texts[act], cue: plan.texts[cue], done: plan.texts[done], why: plan.texts[why], caution: plan.texts[caution],
}));
const READ = 3, address = new URL(sheet.action).pathname, check = sheet.dataset.check;
const typed = document.getElementById('f-Typed'), note = document.getElementById('f-Note'), photo = document.getElementById('f-Photo');

/* What stays on this device */

let store = null; // null where the browser keeps nothing: the page itself then keeps it while it is open
const open = () => new Promise((good, bad) => {
  const asked = indexedDB.open('knownwater-run', 1);
  asked.onupgradeneeded = () => {
    asked.result.createObjectStore('outbox', { keyPath: 'n' });
    asked.result.createObjectStore('facts');
  };
  asked.onsuccess = () => good(asked.result);
  asked.onerror = asked.onblocked = () => bad(asked.error);
});
const keep = (name, act) => store ? new Promise((good, bad) => {
  const work = store.transaction(name, 'readwrite', { durability: 'strict' });
  const asked = act(work.objectStore(name));
  work.oncomplete = () => good(asked?.result);
  work.onerror = work.onabort = () => bad(work.error);
}) : Promise.resolve();

/** A random key; randomUUID is not there over plain http. */
function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = bytes[6] & 15 | 64;
  bytes[8] = bytes[8] & 63 | 128;
  const hex = Array.from(bytes, b => b.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

let outbox = [];        // events that the records have not answered yet, in order
let base = null;        // where the records say that the run stands
let device = newKey();
let away = false;       // whether the last attempt to reach the records failed
let said = '';          // what the records said about something sent

async function post(event, before) {
  // a place behind the last one, or right before another; the fraction keeps two tabs of one device apart
  const n = before ? (before.n + (outbox[outbox.indexOf(before) - 1]?.n ?? before.n - 1)) / 2 : Math.max(Date.now(), (outbox.at(-1)?.n ?? 0) + 1) + Math.random() / 2;
  const entry = { n, run: plan.run, key: newKey(), at: Date.now(), ...event };
  await keep('outbox', s => s.put(entry));
  outbox.push(entry);
  outbox.sort((a, b) => a.n - b.n);
}

async function drop(entry) {
  await keep('outbox', s => s.delete(entry.n));
  outbox = outbox.filter(e => e !== entry);
}

/* Where the run stands: what the records say, with what still waits here played on top by the same rule */

let behind = Infinity; // this device's clock against the records'; the answer that took least time on its way tells it best

function take(state) {
  behind = Math.min(behind, Date.now() - state.now);
  if (state.run !== plan.run) {
    if (!outbox.length) location.reload(); // the check has a new run meanwhile
    return;
  }
  if (base && state.now < base.now) return;
  base = { ...state, starts: Object.fromEntries(Object.entries(state.starts).map(([step, at]) => [step, at + behind])) };
  keep('facts', s => s.put(base, plan.run)).catch(() => {});
}

function here() {
  let { step, ended } = base;
  const starts = { ...base.starts }, readings = { ...base.readings };
  for (const e of outbox) {
    if (e.kind === 'ended') ended = true;
    if (e.kind === 'readingKept' && (e.again || !(e.step in readings))) readings[e.step] = e.text;
    if (e.step !== step || ended) continue;
    if (e.kind === 'done' || e.kind === 'readingKept') starts[++step] = e.at;
    else if (e.kind === 'back' && step > 0) step--;
    else if (e.kind === 'timerStarted') starts[step] = e.at;
  }
  const asked = outbox.find(e => e.asked);
  // a reading that was refused is asked again where it was typed, unless one before it is missing
  if (asked && !(base.step < asked.step && steps[base.step]?.kind === READ && !(base.step in readings))) return { step: asked.step, ended, starts, readings, asked };
  return { step, ended, starts, readings, asked: null };
}

/* Sending */

let token = sheet.elements.__RequestVerificationToken.value, flight = null, tries = 0, later = 0;

async function fetchJson(path, options) {
  const answer = await fetch(path, { ...options, redirect: 'error', signal: AbortSignal.timeout(15000) });
  if (answer.status === 204) return { status: 204, body: null };
  if (!answer.headers.get('content-type')?.startsWith('application/json')) throw new Error('no answer of the records');
  return { status: answer.status, body: await answer.json() };
}

async function write(path, body, type) {
  for (let renewed = false; ; renewed = true) {
    const answer = await fetchJson(path, { method: 'POST', body, headers: { 'Content-Type': type, RequestVerificationToken: token } });
    if (answer.status !== 400 || !answer.body.renew || renewed) return answer;
    token = (await fetchJson(address + '/token', {})).body.token;
  }
}

const outgoing = e => ({ key: e.key, kind: e.kind, step: e.step, text: e.text ?? '', confirmed: !!e.confirmed, again: !!e.again, at: e.at, age: Math.max(0, Date.now() - e.at) });

async function sendSome(list) {
  if (list[0].kind === 'photo') {
    const e = list[0];
    const about = new URLSearchParams({ Key: e.key, Run: plan.run, Client: device, Step: e.step, Text: e.text, At: e.at, Age: Math.max(0, Date.now() - e.at) });
    const answer = await write(`${address}/photos?${about}`, e.picture, 'image/jpeg');
    if (answer.status >= 500) throw new Error('failed');
    if (answer.status === 401) throw new Error(said = answer.body.refused);
    if (answer.status !== 200) said = answer.body.sentence;
    await drop(e);
    return;
  }
  const photoAt = list.findIndex(e => e.kind === 'photo');
  const batch = list.slice(0, Math.min(photoAt < 0 ? list.length : photoAt, 40));
  const { status, body } = await write(address + '/events', JSON.stringify({ run: plan.run, client: device, events: batch.map(outgoing) }), 'application/json');
  if (status >= 500) throw new Error('failed');
  if (status !== 200) {
    // the run is gone: its events stay on this device, and the sentence says why
    said = body.sentence ?? body.refused;
    throw new Error(said);
  }
  for (const answer of body.answers) {
    const e = batch.find(x => x.key === answer.key);
    if (answer.fate === 'kept') {
      if (answer.sentence) said = answer.sentence;
      await drop(e);
    } else if (answer.fate === 'refused' && e.kind === 'readingKept') {
      anew = true;
      e.asked = { sentence: answer.sentence, offers: answer.offers, doubtful: answer.doubtful };
      await keep('outbox', s => s.put(e));
    } else if (answer.fate === 'refused') {
      said = e.text ? `${answer.sentence} It was: ${e.text}` : answer.sentence;
      await drop(e);
    }
  }
  take(body.state);
  const held = outbox.find(e => e.asked);
  if (held && body.answers[0].fate === 'kept' && !body.answers.some(a => a.key === held.key)) delete held.asked; // what it waited for is there
}

// cleared only after it is set: with nothing to send, sendAll is over at once
const send = () => flight ??= sendAll().finally(() => { flight = null; show(); });

async function sendAll() {
  clearTimeout(later);
  try {
    for (;;) {
      const held = outbox.findIndex(e => e.asked);
      const list = held < 0 ? outbox : outbox.slice(0, held);
      if (!list.length) break;
      await sendSome(list);
      [away, tries] = [false, 0];
      show();
    }
  } catch {
    away = true;
    later = setTimeout(send, Math.min(10000, 500 * 2 ** tries++));
  }
}

let asked = false, asking = null, next = 0;
const ask = () => asking ??= askOnce().finally(() => {
  asking = null;
  show();
  next = setTimeout(ask, document.hidden ? 15000 : away ? 4000 : 1000);
});

async function askOnce() {
  clearTimeout(next);
  try {
    if (outbox.length && !outbox[0].asked) await send();
    else {
      const { status, body } = await fetchJson(`${address}/events?after=${base.last}${asked ? `&mark=${encodeURIComponent(base.mark)}` : ''}`, {});
      asked = true;
      away = false;
      if (status === 200) take(body);
      else if (status !== 204) said = body.sentence ?? body.refused;
    }
  } catch {
    away = true;
  }
}

/* The screen */

let shown = -1, anew = false, signalled = '', wasTime = '';
const drafts = new Map(); // what was typed and not kept yet, by step
const set = (element, text) => { if (element.textContent !== text) element.textContent = text; };
const mine = name => { try { return localStorage.getItem('knownwater-run-' + name) === 'yes'; } catch { return false; } };

function show() {
  const at = here(), step = steps[at.step], changed = shown !== at.step;
  const over = !step || at.ended;
  set($('where'), step?.where ?? plan.parameter);
  set($('count'), over ? 'All steps are done' : `Step ${at.step + 1} of ${steps.length}`);
  set($('left'), base.left);
  const share = `${100 * (over ? steps.length : at.step) / steps.length}%`;
  $('line').setAttribute('x2', share);
  $('here').setAttribute('x1', share);
  $('here').setAttribute('x2', share);
  const allIn = base.check === 'closed';
  const waiting = outbox.filter(e => !e.asked).length;
  set($('act'), !over ? step.act : allIn ? 'All readings are in.' : waiting ? 'All steps are done. The readings go to the records when the network is back.' : 'All steps of this sheet are done.');
  set($('do'), !over ? step.done : allIn ? 'See the verdict' : waiting ? 'Try the network' : 'Open the check');
  $('do').value = over ? 'end' : step.kind === READ ? 'keep' : 'done';
  $('cue').hidden = over || !step.cue;
  set($('cue'), step?.cue ?? '');
  $('caution').hidden = over || !step.caution;
  set($('caution').lastElementChild, step?.caution ?? '');
  $('why').hidden = over || !step.why;
  set($('why').lastElementChild, step?.why ?? '');
  $('back').disabled = !at.asked && (at.step === 0 || at.ended);
  set($('back'), at.asked ? 'Drop this reading' : 'Back one step');
  const read = !over && step.kind === READ;
  $('read').hidden = !read;
  set($('label'), read && !at.asked && at.step in at.readings ? 'It is in as below; type it anew if it was wrong' : 'It reads');
  if (changed || anew) {
    anew = false;
    typed.value = drafts.get(at.step) ?? (at.asked ? at.asked.text : read ? at.readings[at.step] ?? '' : '');
  }
  if (changed) {
    $('why').open = false;
    if (shown >= 0) {
      set($('tell'), over ? $('act').textContent : `Step ${at.step + 1} of ${steps.length}. ${step.cue ?? ''} ${step.act}`);
      window.scrollTo(0, 0);
      if (read) typed.focus({ preventScroll: true });
    }
    shown = at.step;
  }
  wrong(typed, at.asked?.asked.sentence ?? '');
  offers(at.asked);
  $('said').hidden = !said;
  set($('said'), said);
  set($('kept'), keptWords(waiting));
  clock(at, step, over);
}

function keptWords(waiting) {
  if (!store && waiting) return 'This browser keeps nothing by itself: leave this page open until the network is back.';
  if (waiting) return `${waiting} ${waiting === 1 ? 'entry waits' : 'entries wait'} on this device for the network.`;
  return away ? 'The network is away. What you do is kept on this device.' : 'Kept in the records; the network may drop.';
}

function wrong(field, sentence) {
  const line = document.getElementById(field.id + '-wrong');
  field.closest('.field').classList.toggle('wrong', !!sentence);
  line.hidden = !sentence;
  set(line.firstElementChild, sentence);
  if (sentence) field.setAttribute('aria-invalid', 'true');
  else field.removeAttribute('aria-invalid');
}

let offered = null;
function offers(asked) {
  const now = asked ? asked.key + asked.asked.sentence : null;
  if (now === offered) return;
  offered = now;
  $('offers').hidden = !asked;
  const button = (words, act) => {
    const b = document.createElement('button');
    b.type = 'button';
    b.className = 'do plain';
    b.textContent = words;
    b.addEventListener('click', act);
    return b;
  };
  $('offers').replaceChildren(...(asked ? asked.asked.offers.map(o => button(o.label, () => reading(o.value, false))) : []));
  if (asked?.asked.doubtful) $('offers').append(button(`It did read ${asked.text}`, () => reading(asked.text, true)));
  if (!asked) return;
  drafts.delete(asked.step);
  typed.value = asked.text;
  typed.focus();
}

/* Timers: computed from the kept start, so that a locked screen or a new load changes nothing */

function clock(at = here(), step = steps[at.step], over = !step || at.ended) {
  const timed = !over && step.seconds > 0;
  $('timer').hidden = !timed;
  if (!timed) return;
  const start = at.starts[at.step];
  const left = start === undefined ? step.seconds : Math.ceil((start + 1000 * step.seconds - Date.now()) / 1000);
  const running = Math.max(0, left);
  const time = `${Math.floor(running / 60)}:${String(running % 60).padStart(2, '0')}`;
  if (time !== wasTime) set($('time'), wasTime = time);
  set($('timer-note'), start === undefined ? 'not started' : left > 0 ? 'it waits for you' : 'over; it waits for you');
  set($('timer-again'), start === undefined ? 'Start the timer' : 'Start it again');
  const mark = `${at.step} ${start}`;
  if (left > 0 || start === undefined || signalled === mark) return;
  signalled = mark;
  if (left < -30) return; // long over: nobody waits for a signal any more
  set($('tell'), 'The time is over.');
  if (step.signal) signal();
}

let sound = null;
function signal() {
  if (mine('shake')) navigator.vibrate?.([300, 150, 300]);
  if (!mine('sound') || !sound) return;
  for (const delay of [0, .45]) {
    const tone = sound.createOscillator(), level = sound.createGain();
    tone.frequency.value = 880;
    level.gain.setValueAtTime(.25, sound.currentTime + delay);
    level.gain.exponentialRampToValueAtTime(.001, sound.currentTime + delay + .4);
    tone.connect(level).connect(sound.destination);
    tone.start(sound.currentTime + delay);
    tone.stop(sound.currentTime + delay + .4);
  }
}

function wakeSound() { // browsers let sound begin only where the hand has touched the page
  if (!mine('sound')) return;
  sound ??= new AudioContext();
  if (sound.state === 'suspended') sound.resume();
}

let lamp = null;
async function stayAwake() {
  try {
    if (!mine('awake')) {
      await lamp?.release();
      lamp = null;
    } else if (!document.hidden) lamp = await navigator.wakeLock.request('screen');
  } catch { /* the battery is low, or it is not allowed: the screen then turns off as usual */ }
}

function switches() {
  const secure = window.isSecureContext;
  for (const [name, able, turned] of [['sound', 'AudioContext' in window, wakeSound], ['shake', 'vibrate' in navigator, () => {}], ['awake', secure && 'wakeLock' in navigator, stayAwake]]) {
    const box = $(name);
    $(name + '-choice').hidden = !able;
    box.checked = mine(name);
    box.addEventListener('change', () => {
      try { localStorage.setItem('knownwater-run-' + name, box.checked ? 'yes' : 'no'); } catch { /* the choice lasts as long as the page */ }
      turned();
    });
  }
  $('switches').hidden = false;
  const cannot = [];
  if (!('vibrate' in navigator)) cannot.push('This browser cannot vibrate.');
  if (!secure) cannot.push('Over plain http the screen cannot be kept on; set a longer time in the device’s own settings.');
  set($('cannot'), cannot.join(' '));
  set($('works'), !store ? 'This browser keeps nothing by itself. Leave this page open; what you do is sent while the network is there.'
    : secure ? 'Without the network this page goes on, and it can be loaded anew. What you do is kept on this device and sent later.'
    : 'Over plain http this page goes on without the network, and what you do is kept on this device and sent later; but it cannot be loaded anew until the network is back. With https it can.');
}

/* What the hand does */

async function reading(text, confirmed) {
  const at = here();
  const { asked } = at;
  const again = asked ? asked.again : at.step in at.readings;
  if (asked) {
    // takes the place of the refused one, before what was done since
    const next = { ...asked, text, confirmed, key: newKey() };
    delete next.asked;
    await keep('outbox', s => s.put(next));
    outbox[outbox.indexOf(asked)] = next;
  } else {
    const held = outbox.find(e => e.asked);
    await post(again && at.readings[at.step] === text ? { kind: 'done', step: at.step } : { kind: 'readingKept', step: at.step, text, confirmed, again }, held);
  }
  drafts.delete(at.step);
  anew = true;
  show();
  send();
}

async function press(button) {
  const at = here();
  said = '';
  wakeSound();
  if (button.value === 'keep') {
    if (!typed.value.trim()) {
      wrong(typed, 'Nothing is written yet. Write the number as the display shows it.');
      typed.focus();
      return;
    }
    await reading(typed.value.trim(), false);
  } else if (button.value === 'back') {
    if (at.asked) {
      drafts.delete(at.step);
      await drop(at.asked);
      anew = true;
    } else await post({ kind: 'back', step: at.step });
  } else if (button.value === 'end') {
    await leave();
    return;
  } else if (button.value === 'slip' || button.value === 'note') {
    const words = note.value.trim();
    wrong(note, words ? '' : 'Nothing is written yet. Say in a few words what happened.');
    if (!words) { note.focus(); return; }
    await post({ kind: button.value, step: at.step, text: words });
    note.value = '';
    $('note').open = false;
    said = `${button.value === 'slip' ? 'Slip' : 'Note'} kept: ${words}`;
  } else await post({ kind: button.value === 'timer' ? 'timerStarted' : 'done', step: at.step });
  show();
  send();
}

async function leave() {
  await send();
  if (outbox.length) {
    show();
    return;
  }
  if (!base.ended) {
    await post({ kind: 'ended', step: base.step });
    await send();
    if (outbox.length) {
      show();
      return;
    }
  }
  await forget();
  location.href = check;
}

async function picture(file) {
  const seen = await createImageBitmap(file);
  let share = Math.min(1, 1600 / Math.max(seen.width, seen.height));
  for (let quality = .85; ; quality -= .15, share *= .85) {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [Math.round(seen.width * share), Math.round(seen.height * share)];
    canvas.getContext('2d').drawImage(seen, 0, 0, canvas.width, canvas.height);
    const made = await new Promise(good => canvas.toBlob(good, 'image/jpeg', quality));
    if (made && (made.size < 1_900_000 || quality < .4)) return made.arrayBuffer();
  }
}

photo.addEventListener('change', async () => {
  const file = photo.files[0];
  if (!file) return;
  try {
    await post({ kind: 'photo', step: here().step, text: note.value.trim(), picture: await picture(file) });
    note.value = '';
    photo.value = '';
    wrong(photo, '');
    said = 'Photo kept.';
    send();
  } catch {
    wrong(photo, 'This browser cannot read that picture. Take it as JPEG, or choose another.');
  }
  show();
});

sheet.addEventListener('submit', event => {
  event.preventDefault();
  const button = event.submitter ?? $('do');
  busy = busy.then(() => press(button)).catch(() => { said = 'This device could not keep that. Press once more; if it stays so, go on with the plain list of readings.'; show(); });
});
let busy = Promise.resolve();
// the second press of a double tap is for the step before
sheet.addEventListener('click', event => { if (event.detail > 1 && event.target.closest('button')) event.preventDefault(); }, true);
typed.addEventListener('input', () => { drafts.set(shown, typed.value); });
// Enter in the field keeps the reading, whichever button stands first in the page
typed.addEventListener('keydown', event => {
  if (event.key !== 'Enter' || event.isComposing) return;
  event.preventDefault();
  sheet.requestSubmit($('do'));
});
$('slip').addEventListener('click', event => {
  event.preventDefault();
  $('note').open = true;
  note.focus();
  $('note').scrollIntoView({ block: 'nearest' });
});

/* Loading anew without the network: only where the browser lets a page have a worker */

async function remember() {
  if (!window.isSecureContext || !('serviceWorker' in navigator)) return;
  try {
    await navigator.serviceWorker.register('/run-sheet-worker.js', { scope: address });
    const cache = await caches.open('knownwater-run');
    const assets = [...document.querySelectorAll('link[href^="/assets/"], script[src^="/assets/"]')].map(e => e.getAttribute('href') ?? e.getAttribute('src'));
    await cache.addAll([address, ...assets]);
  } catch { /* the network is away just now: the copy from before stays */ }
}

async function forget() {
  try {
    await keep('facts', s => s.delete(plan.run));
    if (!window.isSecureContext || !('serviceWorker' in navigator)) return;
    await (await caches.open('knownwater-run')).delete(address);
    await (await navigator.serviceWorker.getRegistration(address))?.unregister();
  } catch { /* it costs a little room, nothing else */ }
}

async function begin() {
  try {
    store = await open();
    const all = await keep('outbox', s => s.getAll());
    outbox = all.filter(e => e.run === plan.run);
    const was = await keep('facts', s => s.get('device'));
    if (was) device = was;
    else await keep('facts', s => s.put(device, 'device'));
    const kept = await keep('facts', s => s.get(plan.run));
    if (kept) base = kept; // what was seen last, where the page itself is an older copy
  } catch {
    store = null;
  }
  const page = JSON.parse(sheet.dataset.state);
  if (!base || page.now > base.now) {
    base = null;
    take(page);
  }
  $('photo-send').hidden = true;
  switches();
  stayAwake();
  show();
  sheet.dataset.ready = 'yes';
  remember();
  ask();
  setInterval(clock, 250);
}

function back() { // to the screen, from a lock, from being frozen
  if (document.hidden) return;
  clock();
  stayAwake();
  ask();
}
document.addEventListener('visibilitychange', back);
document.addEventListener('resume', back);
window.addEventListener('pageshow', event => { if (event.persisted) back(); });
window.addEventListener('online', ask);
begin();
