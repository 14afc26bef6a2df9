// Spares the reload and looks for late answers. The page is the same without: each step asks for it and takes over what is new.
"use strict";

const chat = document.getElementById("chat");
const text = document.getElementById("text");
const status = document.getElementById("status");
const LOOK_EVERY_MS = 10000;
let sending = false;

function log() { return document.getElementById("log"); }

function takeOver(page) {
  const theirs = page.getElementById("log");
  const other = page.documentElement.lang !== document.documentElement.lang;
  if (other || !theirs || !log() || "past" in log().dataset) return replaceAll(page);
  for (const day of theirs.children) {
    const mine = document.getElementById(day.id);
    if (!mine) log().append(document.importNode(day, true));
    else for (const bubble of day.querySelectorAll(".bubble")) if (!document.getElementById(bubble.id)) mine.append(document.importNode(bubble, true));
  }
  log().dataset.last = theirs.dataset.last;
  for (const part of ["choices", "status"]) {
    const mine = document.getElementById(part), its = page.getElementById(part);
    if (mine.innerHTML !== its.innerHTML) mine.replaceChildren(...its.cloneNode(true).childNodes);
  }
  chat.elements.form.value = page.getElementById("chat").elements.form.value;
}

function replaceAll(page) {
  document.documentElement.lang = page.documentElement.lang;
  document.title = page.title;
  for (const part of ["header", "footer"]) document.querySelector(part).replaceWith(page.querySelector(part));
  for (const each of document.querySelectorAll("main > :not(#choices, form)")) each.remove();
  document.querySelector("main").prepend(...[...page.querySelectorAll("main > :not(#choices, form)")]);
  const form = page.getElementById("chat");
  Object.assign(chat.dataset, form.dataset);
  for (const part of ["choices", "status", "send"]) document.getElementById(part).replaceChildren(...page.getElementById(part).childNodes);
  chat.querySelector("label").textContent = form.querySelector("label").textContent;
  chat.elements.form.value = form.elements.form.value;
}

async function send(button) {
  const body = new FormData(chat);
  const choice = button && button.name === "choice" ? button.value : "";
  if (choice) body.set("choice", choice);
  if (sending || !(choice || text.value.trim())) return;
  sending = true;
  const byKey = document.activeElement.matches(":focus-visible");
  status.textContent = chat.dataset.sending;
  try {
    const answer = await fetch(chat.action, { method: "POST", body });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!page.getElementById("chat")) throw new Error(answer.status);
    status.textContent = "";
    takeOver(page);
    if (answer.ok && !choice) text.value = "";
    showLast();
    if (byKey && document.activeElement === document.body) text.focus({ preventScroll: true }); // the tapped answer is gone
  } catch {
    status.textContent = chat.dataset.failed;
  }
  sending = false;
}

function showLast() {
  const mine = document.querySelectorAll(".bubble.person");
  if (mine.length) mine[mine.length - 1].scrollIntoView({ block: "start" });
}

async function look() {
  const last = log() && !("past" in log().dataset) && log().dataset.last;
  if (last && !sending && document.visibilityState === "visible") {
    try {
      const answer = await fetch(chat.dataset.news + "?after=" + last);
      const atEnd = window.innerHeight + window.scrollY > document.body.scrollHeight - 100;
      if (answer.status === 200 && !sending) takeOver(new DOMParser().parseFromString(await answer.text(), "text/html"));
      if (answer.status === 200 && atEnd) window.scrollTo(0, document.body.scrollHeight);
    } catch { /* no connection now: look again later */ }
  }
  setTimeout(look, LOOK_EVERY_MS);
}

chat.addEventListener("submit", (event) => { event.preventDefault(); send(event.submitter); });
text.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.shiftKey || event.isComposing) return;
  event.preventDefault();
  send(null);
});
setTimeout(look, LOOK_EVERY_MS);
