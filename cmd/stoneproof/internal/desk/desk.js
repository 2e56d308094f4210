"use strict";
// The desk works without this script, by its form alone. With it, files can be
// dropped, the work is told as it goes on, and a number that is turned shows at once.

const form = document.querySelector("#job");
const report = document.querySelector("#report");
const said = document.querySelector("#said");
const trouble = document.querySelector("#trouble");
const work = document.querySelector("#work");
const slots = [...form.querySelectorAll(".slot")];
const field = name => form.elements.namedItem(name);

const waiting = new Map(); // files that the desk does not have yet, by slot
let together = false;      // they were dropped together, in no order
let running = null;        // the request at work
let later = 0;             // the timer of one to come

// ask gives the desk what is new and shows what it says.
async function ask(extra = {}) {
  clearTimeout(later);
  running?.abort();
  const mine = running = new AbortController();
  const body = data(extra);
  busy(true);
  tell("");
  const sent = new Map(waiting);
  try {
    const answer = await fetch("check", { method: "POST", body, headers: { Accept: "application/x-ndjson" }, signal: mine.signal });
    for (const [slot, file] of sent) if (waiting.get(slot) === file) waiting.delete(slot);
    together = false;
    for await (const line of lines(answer)) hear(line);
  } catch (err) {
    if (mine.signal.aborted) return;
    tell("The desk does not answer: it may have been ended.");
  }
  if (running === mine) busy(false);
}

function data(extra) {
  const all = new FormData();
  for (const [name, value] of new FormData(form)) if (typeof value === "string") all.append(name, value);
  for (const [name, value] of Object.entries(extra)) all.append(name, value);
  if (together) all.append("dropped", "1");
  for (const [slot, file] of waiting) all.append(slot, file, file.name);
  return all;
}

// lines reads an answer line by line, as it comes.
async function* lines(answer) {
  const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  for (let rest = ""; ;) {
    const { value, done } = await reader.read();
    if (done) return;
    const whole = (rest + value).split("\n");
    rest = whole.pop();
    for (const line of whole) yield JSON.parse(line);
  }
}

function hear(line) {
  if (line.say) said.textContent = line.say;
  if (line.trouble) tell(line.trouble);
  if (line.names) slots.forEach((slot, i) => lay(slot, line.names[i]));
  if (line.report) show(line.report);
}

function lay(slot, name) {
  slot.querySelector(".lies").hidden = !name;
  slot.querySelector(".name").textContent = name;
}

// show puts a new report in the place of the old and leaves open what was open. The
// report is the desk's own, with all text of files escaped, and the page's policy
// lets nothing in it run.
function show(html) {
  const key = d => d.closest("[id]")?.id + d.className;
  const open = new Map([...report.querySelectorAll("details")].map(d => [key(d), d.open]));
  const focused = report.contains(document.activeElement) ? document.activeElement.id : "";
  report.innerHTML = html;
  for (const d of report.querySelectorAll("details")) d.open = open.get(key(d)) ?? d.open;
  if (focused) (document.getElementById(focused) ?? report).focus({ preventScroll: true });
  const judged = report.querySelector(".verdict-of-run h1 > span:last-child");
  said.textContent = judged ? `${judged.textContent}.` : "";
  document.querySelector("#there").hidden = !judged;
}

function tell(text) {
  trouble.hidden = !text;
  trouble.textContent = text;
}

function busy(is) {
  work.hidden = !is;
  report.setAttribute("aria-busy", is);
  if (is) said.textContent = "At work …";
}

const laid = () => waiting.size > 0 || slots.some(s => !s.querySelector(".lies").hidden);

// soon asks again when the numbers have come to rest.
function soon() {
  clearTimeout(later);
  if (laid()) later = setTimeout(ask, 300);
}

function take(slot, file) {
  const most = Number(form.dataset.most);
  if (file.size > most) {
    tell(`${file.name} has more than ${most >> 20} MB, which is all that the desk takes.`);
    return false;
  }
  waiting.set(slot, file);
  return true;
}

// drop lays files that were dropped: one where it fell, two as front and back.
function drop(files, slot) {
  if (files.length === 0) return;
  if (files.length > slots.length) return tell("One card at a time: a front and a back.");
  const one = /(^|[-_. ])back([-_. ]|$)/i.test(files[0].name) ? "back" : "front";
  together = files.length > 1;
  const to = together ? ["front", "back"] : [slot ?? one];
  if (files.every((file, i) => take(to[i], file))) ask();
}

// fit shows the numbers of the size that was chosen, and how they step.
function fit() {
  const chosen = field("size").selectedOptions[0].dataset;
  for (const name of ["width", "height", "bleed", "safe", "unit"]) if (chosen[name]) field(name).value = chosen[name];
  steps();
}

const unitMM = { mm: 1, in: 25.4, pt: 25.4 / 72 };
let unit = field("unit").value;

// turn tells the same lengths in another unit.
function turn() {
  const by = unitMM[unit] / unitMM[field("unit").value];
  for (const name of ["width", "height", "bleed", "safe"]) {
    const v = Number(field(name).value) * by;
    if (field(name).value !== "") field(name).value = Number(v.toFixed(field("unit").value === "in" ? 4 : 2));
  }
  steps();
}

function steps() {
  unit = field("unit").value;
  for (const name of ["width", "height", "bleed", "safe"]) field(name).step = { mm: 0.5, in: 0.03125, pt: 1 }[unit];
}

form.addEventListener("submit", e => {
  if (e.submitter?.formAction.endsWith("/clear")) return;
  e.preventDefault();
  ask(e.submitter?.name ? { [e.submitter.name]: e.submitter.value } : {});
});
form.addEventListener("input", e => {
  if (e.target.type === "file") return;
  if (e.target.id === "size") fit();
  if (e.target.id === "unit") turn();
  if (e.target.id === "width" || e.target.id === "height") field("size").value = "";
  soon();
});
form.addEventListener("change", e => {
  if (e.target.type !== "file" || e.target.files.length === 0) return;
  const file = e.target.files[0];
  e.target.value = "";
  if (take(e.target.name, file)) ask();
});
addEventListener("dragover", e => { e.preventDefault(); document.body.classList.add("over"); });
addEventListener("dragleave", e => { if (!e.relatedTarget) document.body.classList.remove("over"); });
addEventListener("drop", e => {
  e.preventDefault();
  document.body.classList.remove("over");
  drop([...e.dataTransfer.files], e.target.closest?.(".slot")?.dataset.slot);
});
steps();
