// Comfort only: every page works without it. A second tap right after the first does not send a form again, and a form
// with many fields of which few are filled in sends only those in its address.
"use strict";

const PAUSE_IN_MILLISECONDS = 2000;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  if (event.timeStamp - Number(form.dataset.sentAt ?? -Infinity) < PAUSE_IN_MILLISECONDS) event.preventDefault();
  else form.dataset.sentAt = event.timeStamp;
});

document.addEventListener("formdata", ({ target, formData }) => {
  if (!target.matches("[data-filled-only]")) return;
  for (const name of new Set(formData.keys())) {
    if (formData.getAll(name).every((value) => value === "")) formData.delete(name);
  }
});
