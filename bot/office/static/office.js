// What pages do beyond HTML: ask before what can't be undone, tell how long a text gets, and keep a draft until it is sent.
"use strict";

document.addEventListener("submit", (event) => {
  const question = event.submitter && event.submitter.dataset.ask;
  if (question && !window.confirm(question)) event.preventDefault();
});

for (const form of document.querySelectorAll("form[data-length]")) {
  const text = form.querySelector("textarea");
  const told = form.querySelector(".length");
  let timer = 0;
  const tell = async () => {
    if (!text.value.trim()) { told.textContent = ""; return; }
    const answer = await fetch(form.dataset.length, { method: "POST", body: new FormData(form) });
    if (answer.ok) told.textContent = (await answer.json()).says;
  };
  text.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(tell, 250); });
  if (text.value) tell();
}

for (const sent of document.querySelectorAll("[data-sent]")) sessionStorage.removeItem("draft " + sent.dataset.sent);
for (const text of document.querySelectorAll("textarea[data-draft]")) {
  const key = "draft " + text.dataset.draft;
  const kept = sessionStorage.getItem(key);
  if (kept && !text.value) {
    text.value = kept;
    text.dispatchEvent(new Event("input"));
  }
  text.addEventListener("input", () => sessionStorage.setItem(key, text.value));
}
