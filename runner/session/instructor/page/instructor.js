// The instructor's page: draws each state that comes, sends orders, and says at once when nothing comes.
"use strict";
const SILENCE = 3500; // ms without a state (a beat is 1 s), after which the connection counts as lost
const AGAIN = 1000; // ms between two tries
const $ = id => document.getElementById(id);
const ORDERS = ["freeze", "trip", "remark", "sign"];
let shown = {};
let last = 0; // number of the newest line on the timeline
let known = null;
let source = null;
let heardAt = 0;
let isOver = false;
let isLost = false;
let isFrozen = false;
let passing = 0;

const make = (tag, text = "", name = "") => {
  const made = document.createElement(tag);
  made.textContent = text;
  made.className = name;
  return made;
};
const stamp = seconds => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

// A part is drawn anew only when it has changed, so that no button goes away under a finger.
const draw = (name, value, how) => {
  const text = JSON.stringify(value);
  if (shown[name] !== text) {
    shown[name] = text;
    how(value);
  }
};
const write = (id, words) => draw(id, words, () => { $(id).textContent = words; });

function banner(words, isCalm = false) {
  clearTimeout(passing);
  $("banner").textContent = words;
  $("banner").className = isCalm ? "calm" : "";
  $("banner").hidden = !words;
}

function passingBanner(words, isCalm) {
  banner(words, isCalm);
  passing = setTimeout(() => { if (!isLost && !isOver) banner(""); }, 4000);
}

function connect() {
  if (source) source.close();
  heardAt = Date.now();
  source = new EventSource("live");
  source.onmessage = message => { back(); show(JSON.parse(message.data)); };
  source.addEventListener("over", over);
  source.onerror = () => { lose(); source.close(); if (!isOver) setTimeout(connect, AGAIN); };
}

function back() {
  heardAt = Date.now();
  if (isLost) {
    isLost = false;
    passingBanner("Connected again, and up to date.", true);
  }
}

function lose() {
  if (isOver || isLost) return;
  isLost = true;
  banner(`Connection lost at ${new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" })}. What stands here is old; trying again.`);
  enable(null);
}

function over() {
  isOver = true;
  isLost = false;
  source.close();
  banner("This drill is over; the page is closed.", true);
  enable(null);
}

setInterval(() => {
  if (!isOver && Date.now() - heardAt > SILENCE) { lose(); connect(); }
}, 500);

function enable(state) {
  const can = state !== null && state.is_begun && !isOver;
  document.body.classList.toggle("stale", isLost);
  for (const id of ORDERS) $(id).disabled = !can;
  for (const each of $("faults").querySelectorAll("button")) each.disabled = !can;
  if (can) {
    $("sign").disabled = state.signed !== null;
    for (const id of ["freeze", "trip"]) $(id).disabled = state.is_over;
  }
}

function show(state) {
  if (!state.is_begun) return;
  isFrozen = state.is_frozen;
  write("check", state.check);
  write("who", [state.student || "no name", state.registration, `level ${state.level}`, `seed ${state.seed}`].filter(Boolean).join(" · "));
  write("clock", stamp(state.seconds));
  write("departure", state.is_frozen ? "frozen" : state.departure);
  write("state", state.state);
  write("count", `${state.done} of ${state.total} done`);
  write("item", state.item || "–");
  for (const id of ["heard", "said", "told"]) write(id, state[id] || "–");
  write("freeze", state.is_frozen ? "Let time go on" : "Freeze");
  write("sign", state.signed === null ? "Sign off" : "Signed");
  draw("bar", [state.done, state.total], ([done, total]) => { $("bar").style.width = `${total ? 100 * done / total : 0}%`; });
  draw("answers", state.answers, all => $("answers").replaceChildren(...all.map(each => make("li", each))));
  draw("faults", state.faults, drawFaults);
  draw("power", [state.batteries, state.buses], drawPower);
  draw("panel", state.panel, drawPanel);
  draw("timeline", state.timeline.length && state.timeline.at(-1).number, () => drawTimeline(state.timeline));
  document.body.classList.toggle("frozen", state.is_frozen);
  enable(state);
  if (known === null) load();
}

function drawFaults(faults) {
  const drawn = faults.map(fault => {
    const row = make("li");
    const words = make("p");
    const how = `${fault.is_tripped ? "tripped by you" : "hidden from the beginning"}, ${fault.is_there ? "there now" : "not there at this moment"}`;
    words.append(make("b", fault.words), make("span", how));
    const mend = make("button", "Mend");
    mend.setAttribute("aria-label", `Mend ${fault.words}`);
    mend.onclick = () => order({ ...fault, order: "mend" });
    row.append(words, mend);
    return row;
  });
  $("faults").replaceChildren(...(drawn.length ? drawn : [make("li", "Nothing is wrong with it now.", "none")]));
}

function drawPower([batteries, buses]) {
  const chip = (name, value, isLow) => {
    const made = make("li", name, isLow ? "low" : "");
    made.append(make("b", value));
    return made;
  };
  $("power").replaceChildren(
    ...batteries.map(each => chip(each.name, `${each.percent} %, ${each.celsius} °C`, false)),
    ...buses.map(each => chip(each.name, each.volts ? `${each.volts.toFixed(1)} V` : "dead", !each.volts)),
  );
}

let rows = new Map();
function drawPanel(groups) {
  const before = rows;
  rows = new Map();
  $("panel").replaceChildren(...groups.map(({ group, rows: found }) => {
    const part = make("div");
    const list = make("ul");
    for (const { name, shape, words } of found) {
      const key = `${group}/${name}`;
      rows.set(key, words);
      const row = make("li", "", before.has(key) && before.get(key) !== words ? "fresh" : "");
      row.append(make("span", shape), make("span", name), make("b", words));
      list.append(row);
    }
    part.append(make("h3", group), list);
    return part;
  }));
}

function drawTimeline(lines) {
  const isFirst = last === 0;
  for (const line of lines) {
    if (line.number <= last) continue;
    last = line.number;
    const isHers = line.who !== "student" && line.who !== "eyesout";
    const row = make("li", "", `${isHers ? "mine" : ""}${isFirst ? "" : " fresh"}`);
    const words = make("span");
    words.append(make("i", line.who), document.createTextNode(line.words));
    row.append(make("time", stamp(line.seconds)), words);
    $("timeline").prepend(row);
  }
}

async function load() {
  known = [];
  try {
    known = await (await fetch("known")).json();
  } catch {
    known = null;
  }
  list();
}

function list() {
  const wanted = $("find").value.toLowerCase().split(/\s+/);
  const found = (known || []).filter(fault => wanted.every(word => fault.words.toLowerCase().includes(word)));
  $("known").replaceChildren(...found.map(fault => {
    const row = make("li");
    const button = make("button", fault.words);
    button.onclick = () => { $("trip-box").close(); order({ ...fault, order: "trip" }); };
    row.append(button);
    return row;
  }));
}

async function order(what) {
  try {
    const answer = await fetch("order", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(what) });
    if (answer.ok) return true;
    passingBanner(`Not done: ${(await answer.json()).wrong}.`);
  } catch {
    lose();
  }
  return false;
}

function open(box) {
  for (const each of box.querySelectorAll(".by")) each.value = localStorage.getItem("by") || "";
  box.showModal();
}

async function give(box, what) {
  const by = box.querySelector(".by").value.trim();
  localStorage.setItem("by", by);
  box.close();
  const words = box.querySelector("textarea");
  if (await order({ ...what, by, words: words.value })) words.value = "";
}

$("freeze").onclick = () => order({ order: isFrozen ? "continue" : "freeze" });
$("trip").onclick = () => { $("find").value = ""; list(); open($("trip-box")); };
$("find").oninput = list;
$("remark").onclick = () => open($("remark-box"));
$("remark-give").onclick = () => give($("remark-box"), { order: "remark" });
$("sign").onclick = () => open($("sign-box"));
$("sign-met").onclick = () => give($("sign-box"), { order: "sign", is_met: true });
$("sign-not").onclick = () => give($("sign-box"), { order: "sign", is_met: false });
for (const each of document.querySelectorAll("button.leave")) each.onclick = () => each.closest("dialog").close();
connect();
