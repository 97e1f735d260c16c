(() => {
  "use strict";
  const all = (selector, within = document) => Array.from(within.querySelectorAll(selector));
  const controls = document.querySelector(".controls");
  const maps = document.querySelector(".maps");
  const more = document.querySelector(".more-maps");
  const pointed = document.querySelector(".pointed");

  // One map at a time, as chosen; on paper every storey of it.
  if (controls && maps && more) {
    all(".map", more).forEach((figure) => maps.append(figure));
    more.hidden = true;
    const chosen = (name) => {
      const input = controls.querySelector(`input[name="${name}"]:checked`);
      return input ? input.value : null;
    };
    const show = () => {
      const doors = chosen("doors"), value = chosen("value"), storey = chosen("storey");
      all(".map", maps).forEach((figure) => {
        const state = (!doors || figure.dataset.doors === doors) && figure.dataset.value === value;
        figure.classList.toggle("printed", state);
        figure.hidden = !state || (storey !== null && figure.dataset.storey !== storey);
      });
    };
    controls.addEventListener("change", show);
    controls.hidden = false;
    show();
  }

  // What belongs to a device is pointed out together: its way on the map, its line, why it reads what it reads.
  let lit = null;
  const point = (id) => {
    if (id === lit) return;
    lit = id;
    all(".lit-way, tr[data-device]").forEach((part) => part.classList.toggle("lit", part.dataset.device === id));
    if (!pointed) return;
    const card = id && document.getElementById(id);
    pointed.hidden = !card;
    if (!card) return;
    pointed.textContent = "";
    const name = document.createElement("a");
    name.href = "#" + id;
    name.textContent = card.querySelector("h3").textContent.trim();
    pointed.append(name, ": ", card.querySelector(".why").textContent);
  };
  const device = (target) => {
    const spot = target.closest(".spot");
    if (spot) return spot.getAttribute("href").slice(1);
    const part = target.closest("[data-device]");
    return part ? part.dataset.device : null;
  };
  document.addEventListener("pointerover", (event) => {
    const id = event.pointerType === "mouse" ? device(event.target) : null;
    if (id) point(id);
  });
  document.addEventListener("focusin", (event) => {
    const id = device(event.target);
    if (id) point(id);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") point(null);
  });
  // A first tap points out, a second one follows the link.
  let touched = false;
  document.addEventListener("pointerdown", (event) => {
    const spot = event.target.closest(".spot");
    touched = Boolean(spot) && event.pointerType !== "mouse" && device(spot) !== lit;
  });
  document.addEventListener("click", (event) => {
    const spot = event.target.closest(".spot");
    if (!spot || !touched) return;
    event.preventDefault();
    touched = false;
    point(device(spot));
  });

  // A thing in the way: its number on the small plan and its line belong together.
  const step = (event) => {
    const part = event.target.closest("[data-step]");
    all(".card [data-step].lit").forEach((one) => one.classList.remove("lit"));
    if (!part) return;
    all(`[data-step="${part.dataset.step}"]`, part.closest(".card")).forEach((one) => one.classList.add("lit"));
  };
  document.addEventListener("pointerover", step);
  document.addEventListener("click", step);

  // A card that is asked for is opened; on paper for the file all of them.
  const open = () => {
    const card = location.hash.startsWith("#device-") && document.getElementById(location.hash.slice(1));
    if (card) all("details.ways", card).forEach((details) => { details.open = true; });
  };
  window.addEventListener("hashchange", open);
  open();
  const forFile = document.body.classList.contains("for-file");
  window.addEventListener("beforeprint", () => {
    if (forFile) all("details.ways, details.figures").forEach((details) => { details.open = true; });
  });
})();
