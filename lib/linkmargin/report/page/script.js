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
      all(".scale-of").forEach((scale) => { scale.hidden = scale.dataset.value !== value; });
    };
    controls.addEventListener("change", show);
    controls.hidden = false;
    show();
  }

  // What belongs to a device is pointed out together: its way on the map, its line, why it reads what it reads.
  let lit = null;
  // Its words lie over the page, at its foot or at its head, so that nothing moves.
  const point = (id, y = 0) => {
    if (id === lit) return;
    lit = id;
    all(".lit-way, tr[data-device]").forEach((part) => part.classList.toggle("lit", part.dataset.device === id));
    if (!pointed) return;
    const card = id && !document.body.classList.contains("trying") && document.getElementById(id);
    pointed.hidden = !card;
    if (!card) return;
    pointed.classList.toggle("at-head", y > window.innerHeight / 2);
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
    if (event.pointerType === "mouse") point(device(event.target), event.clientY);
  });
  document.addEventListener("focusin", (event) => {
    const id = device(event.target);
    if (id) point(id, event.target.getBoundingClientRect().y);
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
    point(device(spot), event.clientY);
  });

  // Other places of radios, and cases: every figure was calculated by the library and stands in the page.
  const store = document.getElementById("trials");
  const trial = document.querySelector(".trial");
  if (store && trial && maps) {
    const data = JSON.parse(store.textContent);
    const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const perDevice = 6, perSite = perDevice * data.devices.length;
    const planned = bytes(data.figures);
    const plainly = data.without_readings ? bytes(data.without_readings) : planned;
    data.radios.forEach((radio) => { radio.bytes = bytes(radio.figures); });
    data.cases.forEach((one) => { one.bytes = bytes(one.figures); });
    const fill = (text, places) => text.replace(/\{(\w+)\}/g, (all, name) => (name in places ? places[name] : all));
    const words = data.words;
    const told = document.querySelector(".tried");
    const inputs = all('input[name="trial"]', trial);
    const header = document.querySelector("header");
    const verdict = header.querySelector(".verdict");
    const asPlanned = { sign: verdict.querySelector("svg").outerHTML, text: verdict.querySelector("span").textContent, name: verdict.className };
    const rows = new Map(all("tr[data-device]").map((row) => [row.dataset.device, row]));
    const plannedCells = new Map(Array.from(rows, ([id, row]) => [id, all("td", row).map((cell) => cell.textContent)]));
    const figures = all(".map", maps);
    const captions = figures.map((figure) => figure.querySelector("figcaption").textContent);
    const svgs = (map) => figures.filter((figure) => Number(figure.dataset.storey) === map).map((figure) => figure.querySelector("svg"));
    const created = (name, attributes) => {
      const element = document.createElementNS(document.querySelector("svg").namespaceURI, name);
      Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, value));
      return element;
    };
    const chanceText = (code) => (code === 0 ? words.no_chance : code === 100 ? words.sure : fill(words.chance, { count: code }));
    const chanceFigure = (code) => (code === 0 ? "<1" : code === 100 ? ">99" : String(code));

    // The marks of a device on all maps of the first state of the doors, found once.
    const firstDoors = figures.length > 0 ? figures[0].dataset.doors : "";
    const marks = data.devices.map((id) => figures.filter((figure) => figure.dataset.doors === firstDoors).flatMap((figure) => {
      const spot = figure.querySelector(`.spot[href="#${id}"]`);
      if (!spot) return [];
      const shapes = all("circle,polygon", spot).slice(-2);
      const rings = all('circle[fill="none"]', spot);
      const ring = rings.length > 0 ? rings : [["#ffffff", "4.4"], ["#22272e", "1.8"]].map(([stroke, width]) => {
        const at = spot.querySelector("circle");
        const circle = created("circle", { cx: at.getAttribute("cx"), cy: at.getAttribute("cy"), r: "10.5", fill: "none", stroke, "stroke-width": width });
        spot.insertBefore(circle, shapes[0]);
        return circle;
      });
      const label = figure.querySelector(`.label[data-of="#${id}"]`);
      const lines = label ? all("text", label) : [];
      return [{ spot, shapes, ring, figure: lines.length > 0 ? lines[lines.length - 1] : null, value: figure.dataset.value }];
    }));

    const most = 5;  // names in a sentence
    const named = (names) => {
      if (names.length > most) return fill(words.more, { names: names.slice(0, most).join(", "), count: names.length - most });
      return names.length < 2 ? names.join("") : fill(words.and, { names: names.slice(0, -1).join(", "), last: names[names.length - 1] });
    };
    const counted = (texts, count, places = {}) => fill(texts[count === 1 ? 0 : 1], { count, ...places });
    const verdictOf = (weak, doubtful) => {
      const count = data.devices.length, good = count - weak.length - doubtful.length;
      if (good === count) return counted(words.all_good, count);
      const parts = [weak.length > 0 ? counted(words.weak, weak.length, { all: count, names: named(weak) }) : words.none_weak];
      if (doubtful.length > 0) parts.push(counted(words.doubtful, doubtful.length, { names: named(doubtful) }));
      if (good > 0) parts.push(counted(words.others, good));
      return parts.join(" ");
    };
    const since = (now, was) => (now === was ? now : fill(words.was, { now, was }));

    // Figures of each device, where they are tried beside those before.
    const show = (values, before = null) => {
      const weak = [], doubtful = [], told = [];
      data.devices.forEach((id, device) => {
        const of = (bytes) => {
          const [percent, low, high, chance, outcome, by] = bytes.subarray(perDevice * device, perDevice * (device + 1));
          return { percent, low, high, chance, outcome, by, figure: percent + "\u00a0%", text: chanceText(chance), hub: data.stations[by] };
        };
        const now = of(values), was = before ? of(before) : now;
        const { percent, low, high, chance, outcome } = now;
        const figure = since(now.figure, was.figure), sure = since(now.text, was.text);
        const text = [fill(words.figures, { device: data.names[device], percent: figure, chance: sure })];
        const more = [fill(words.range, { low, high })];
        (now.by === was.by ? more : text).push(fill(words.received, { hub: since(now.hub, was.hub) }));
        if (now.by !== was.by && (percent - was.percent) * (chance - was.chance) < 0) text.push(words.whole_way);
        told.push({ outcome: Math.max(outcome, was.outcome), percent, text: text.join(" "), more: more.join(" ") });
        if (outcome === 2) weak.push(data.names[device]);
        if (outcome === 1) doubtful.push(data.names[device]);
        const row = rows.get(id);
        if (row) {
          const planned = plannedCells.get(id);
          all("td", row).forEach((cell, column) => {
            cell.textContent = !before ? planned[column] : column === 0 ? figure : column === 1 ? sure : "\u2013";
          });
          if (row.dataset.outcome !== String(outcome)) row.querySelector("th svg").outerHTML = data.signs[outcome];
          row.dataset.outcome = outcome;
        }
        marks[device].forEach((mark) => {
          const byChance = mark.value === "chance";
          const plain = (byChance ? chanceFigure(chance) : percent) + " %";
          const figure = outcome === 2 ? fill(words.weak_figure, { figure: plain }) : plain;
          if (mark.figure) mark.figure.textContent = figure;
          mark.spot.setAttribute("aria-label", data.names[device] + ": " + figure);
          mark.shapes.forEach((shape) => shape.setAttribute("fill", byChance ? data.chance_colours[chance] : data.colours[percent]));
          mark.ring.forEach((circle) => { circle.style.display = outcome === 2 ? "" : "none"; });
        });
      });
      // Those that are or were not good, or the lowest of all.
      told.sort((a, b) => b.outcome - a.outcome || a.percent - b.percent);
      const poor = told.filter((one) => one.outcome > 0).length;
      return { weak, doubtful, details: told.slice(0, Math.max(1, Math.min(3, poor))) };
    };
    const head = (what) => {
      verdict.className = what.name;
      verdict.querySelector("svg").outerHTML = what.sign;
      verdict.querySelector("span").textContent = what.text;
    };
    // The most needed, and more for a screen with room.
    const element = (name, text, more = "") => {
      const kept = (words) => words.replaceAll(" %", "\u00a0%");
      const made = document.createElement(name);
      made.textContent = kept(text);
      if (!more) return made;
      const rest = document.createElement("span");
      rest.className = "with-room";
      rest.textContent = " " + kept(more);
      made.append(rest);
      return made;
    };
    const tell = (text, more = "", lines = []) => {
      told.textContent = "";
      told.append(element("p", text, more));
      if (lines.length === 0) return;
      const list = document.createElement("ul");
      lines.forEach((line) => list.append(element("li", line.text, line.more)));
      told.append(list);
    };

    // While something is tried, all that is not of it says so or is off.
    const doors = controls && controls.querySelector('input[name="doors"]');
    const doorsNote = document.createElement("span");
    doorsNote.textContent = words.doors_off;
    doorsNote.className = "why-off";
    const plannedNotes = ["todo", "devices", "hubs", "failures"].flatMap((id) => {
      const title = document.querySelector(`#${id} h2`);
      if (!title) return [];
      const note = document.createElement("p");
      note.className = "planned-only";
      note.textContent = words.planned_only;
      note.hidden = true;
      title.after(note);
      return [note];
    });
    const lock = (chosen, tried) => {
      document.body.classList.toggle("trying", tried);
      plannedNotes.forEach((note) => { note.hidden = !tried; });
      figures.forEach((figure, i) => {
        const caption = figure.querySelector("figcaption");
        const text = tried ? fill(words.caption, { storey: data.storeys[figure.dataset.storey] }) : captions[i];
        if (caption.textContent !== text) caption.textContent = text;
      });
      if (!doors) return;
      if (chosen) {
        const first = controls.querySelector(`input[name="doors"][value="${firstDoors}"]`);
        if (!first.checked) first.click();
        doors.closest("fieldset").append(doorsNote);
      } else {
        doorsNote.remove();
      }
      doors.closest("fieldset").disabled = chosen;
    };
    const tryOut = (headline, where, values, before, slots) => {
      // The headline keeps its room, so that the plan stays under the pointer.
      if (!header.style.minHeight) header.style.minHeight = header.offsetHeight + "px";
      const found = show(values, before);
      const said = verdictOf(found.weak, found.doubtful);
      const full = slots.flatMap((used, station) =>
        data.capacities[station] !== null && used > data.capacities[station]
          ? [fill(words.full, { hub: data.stations[station], used, capacity: data.capacities[station] })] : []);
      if (words.no_walls) full.push(words.no_walls);
      const rank = found.weak.length > 0 ? 2 : found.doubtful.length + full.length > 0 ? 1 : 0;
      head({ sign: data.signs[rank], text: [headline, said, ...full].join(" "), name: "verdict " + ["fine", "close", "weak"][rank] });
      tell([headline, words.doors, said, ...full].join(" "), where, found.details);
      point(null);
      lock(true, true);
    };

    let radio = -1, place = -1;
    const signs = [];  // of the radio that is tried, on its maps
    const dotted = [];  // its places, drawn once
    let dottedRadio = -1;
    const boxes = new Map();  // of symbols and names: asked for once, since the browser lays the plan out for each
    let shifted = [];   // its own symbols and names
    const clear = () => {
      signs.splice(0).forEach((sign) => sign.remove());
      shifted.splice(0).forEach((part) => {
        part.removeAttribute("transform");
        part.classList.remove("away");
      });
    };
    const symbols = (one) => figures.flatMap((figure) => {
      if (one.device < 0) return all("[data-station],[data-station-name]", figure).filter((part) => one.name === (part.dataset.station || part.dataset.stationName));
      const link = "#" + data.devices[one.device];
      return all(".spot,.label", figure).filter((part) => (part.getAttribute("href") || part.dataset.of) === link);
    });
    // The symbol and the name go to the place that is tried, to its storey if need be; a ring stays behind.
    const carry = (one, [map, x, y]) => {
      if (!one.now) return;
      const [home, fromX, fromY] = one.now;
      const moved = (part, svg) => {
        if (!boxes.has(part)) boxes.set(part, part.getBBox());
        const box = boxes.get(part), sheet = svg.viewBox.baseVal;
        const name = part.matches(".label,[data-station-name]");
        const held = (by, low, high, most) => (name ? Math.max(-low, Math.min(by, most - high)) : by);
        return `translate(${held(x - fromX, box.x, box.x + box.width, sheet.width)} ${held(y - fromY, box.y, box.y + box.height, sheet.height)})`;
      };
      const parts = symbols(one);
      svgs(home).forEach((svg) => {
        const ring = created("circle", { class: "left-place", cx: fromX, cy: fromY, r: 10 });
        svg.append(ring);
        signs.push(ring);
      });
      shifted = parts;
      if (map === home) return parts.forEach((part) => part.setAttribute("transform", moved(part, part.ownerSVGElement)));
      const sample = parts.filter((part) => part.ownerSVGElement === parts[0].ownerSVGElement);
      svgs(map).forEach((svg) => sample.forEach((part) => {
        const copy = part.cloneNode(true);
        copy.setAttribute("transform", moved(part, svg));
        svg.append(copy);
        signs.push(copy);
      }));
      parts.forEach((part) => part.classList.add("away"));
    };
    const keep = () => {
      const chosen = inputs.find((input) => input.checked);
      const text = radio >= 0 && place >= 0 ? `#try=${radio}.${place}` : chosen && chosen.value.startsWith("c") ? "#try=" + chosen.value : "#plan";
      if (location.hash !== text && (text !== "#plan" || location.hash.startsWith("#try="))) history.replaceState(null, "", text);
    };
    const drawPlaces = () => {
      if (dottedRadio === radio) return;
      dottedRadio = radio;
      dotted.splice(0).forEach((path) => path.remove());
      if (radio < 0) return;
      const drawn = new Map();
      data.radios[radio].places.forEach(([map, x, y]) => {
        if (!drawn.has(map)) drawn.set(map, []);
        drawn.get(map).push([x, y]);
      });
      // Over the building, under symbols and names; what lies on the small plan over that.
      drawn.forEach((points, map) => svgs(map).forEach((svg) => {
        const grounds = all(":scope > g[clip-path]:not(.lit-way)", svg);
        const small = grounds.length > 1 ? document.querySelector(grounds[1].getAttribute("clip-path").slice(4, -1) + " rect") : null;
        const edge = (name) => Number(small.getAttribute(name));
        const onSmall = ([x, y]) => small && x >= edge("x") && x <= edge("x") + edge("width") && y >= edge("y") && y <= edge("y") + edge("height");
        [points.filter((one) => !onSmall(one)), points.filter(onSmall)].forEach((some, ground) => {
          if (some.length === 0) return;
          const path = created("path", { class: "places", d: some.map(([x, y]) => `M${x - 2.5} ${y}a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0 -5 0`).join("") });
          svg.insertBefore(path, grounds.length > 0 ? grounds[ground].nextSibling : svg.querySelector(":scope > .spot, :scope > .station"));
          dotted.push(path);
        });
      }));
    };
    const dots = () => {
      clear();
      drawPlaces();
      if (radio < 0 || place < 0) return;
      const [map, x, y] = data.radios[radio].places[place];
      svgs(map).forEach((svg) => {
        const sign = created("circle", { class: "moved", cx: x, cy: y, r: 14 });
        svg.append(sign);
        signs.push(sign);
      });
      carry(data.radios[radio], data.radios[radio].places[place]);
    };
    const merged = () => {
      const one = data.radios[radio];
      if (one.device < 0) return one.bytes.subarray(place * perSite, (place + 1) * perSite);
      const values = planned.slice();
      values.set(one.bytes.subarray(place * perDevice, (place + 1) * perDevice), one.device * perDevice);
      return values;
    };
    const choose = (next) => {
      if (radio < 0 || next === place) return;
      place = next;
      const one = data.radios[radio];
      const slots = one.device < 0 ? one.slots[place] : data.slots;
      const [, , , where, room] = one.places[place];
      tryOut(fill(words.head, { radio: one.name, room: data.rooms[room] }), fill(words.at, { place: where }), merged(), planned, slots);
      dots();
      keep();
    };
    const check = (value) => inputs.forEach((input) => { input.checked = input.value === value; });
    const reset = (position) => {
      radio = position;
      place = -1;
      show(planned);
      tell(radio < 0 ? words.as_planned : fill(words.next, { radio: data.radios[radio].name }));
      head(asPlanned);
      header.style.minHeight = "";
      lock(radio >= 0, false);
      dots();
    };
    const back = () => {
      check("");
      reset(-1);
      keep();
    };
    const take = (position) => {
      check("r" + position);
      if (radio === position) return;
      reset(position);
    };
    // Else a browser takes back at a reload what the address says.
    inputs.forEach((input) => input.setAttribute("autocomplete", "off"));
    // After a press of the pointer the arrow keys are for the plan; who came by keys stays in the list.
    const toPlan = () => {
      const shown = figures.find((figure) => !figure.hidden);
      if (shown) shown.querySelector(".map-frame").focus({ preventScroll: true });
    };
    const storeyOf = (map) => {
      const storey = controls && controls.querySelector(`input[name="storey"][value="${map}"]`);
      if (storey && !storey.checked) storey.click();
    };
    // The plan, its storey and its part with what is to be moved.
    const bring = (at) => {
      if (!at) return;
      storeyOf(at[0]);
      const frame = figures.find((figure) => !figure.hidden).querySelector(".map-frame");
      const top = frame.getBoundingClientRect().top;
      if (top < 0 || top > window.innerHeight / 2) frame.scrollIntoView();
      const wide = frame.scrollWidth;
      if (wide > frame.clientWidth) frame.scrollLeft = (at[1] / frame.querySelector("svg").viewBox.baseVal.width) * wide - frame.clientWidth / 2;
    };
    let pressed = false;
    trial.addEventListener("pointerdown", () => { pressed = true; });
    trial.addEventListener("keydown", () => { pressed = false; });
    trial.addEventListener("change", (event) => {
      const value = event.target.value;
      if (value === "") return back();
      if (value.startsWith("r")) {
        take(Number(value.slice(1)));
        bring(data.radios[radio].now);
        if (pressed) toPlan();
        return keep();
      }
      const one = data.cases[Number(value.slice(1))];
      radio = place = -1;
      tryOut(fill(words.head_case, { case: one.name }), "", one.bytes, plainly, one.slots);
      dots();
      keep();
    });

    // By pointer: a radio's symbol is dragged, or a place tapped.
    const at = (svg, event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const nearest = (map, point, within) => {
      let found = -1, least = within * within;
      data.radios[radio].places.forEach(([onMap, x, y], position) => {
        if (onMap !== map) return;
        const far = (x - point.x) ** 2 + (y - point.y) ** 2;
        if (far < least) { least = far; found = position; }
      });
      return found;
    };
    const radioOf = (target) => {
      const station = target.closest("[data-station]");
      if (station) return data.radios.findIndex((one) => one.device < 0 && one.name === station.dataset.station);
      return -1;
    };
    let dragged = null;
    const drag = (event, within) => {
      const point = at(dragged.svg, event);
      const next = nearest(dragged.map, point, within);
      if (next >= 0) choose(next);
    };
    maps.addEventListener("pointerdown", (event) => {
      const svg = event.target.closest("svg.plan");
      if (!svg || event.button > 0) return;
      const station = radioOf(event.target);
      if (station >= 0) take(station);
      if (radio < 0) return;
      const map = Number(svg.closest(".map").dataset.storey);
      const moved = event.target.closest(".moved") !== null;
      const on = station >= 0 || moved || nearest(map, at(svg, event), 24) >= 0;
      if (!on) return;
      event.preventDefault();
      svg.closest(".map-frame").focus({ preventScroll: true });
      dragged = { svg, map };
      svg.setPointerCapture(event.pointerId);
      if (station < 0 && !moved) drag(event, 24);
    });
    maps.addEventListener("pointermove", (event) => { if (dragged) drag(event, 60); });
    ["pointerup", "pointercancel"].forEach((name) => maps.addEventListener(name, () => { dragged = null; }));

    // By keys: the next place the way of the arrow, from where it is now.
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const step = (event) => {
      const way = ways[event.key];
      if (!way || radio < 0) return false;
      const one = data.radios[radio];
      const here = place >= 0 ? one.places[place] : one.now;
      const shown = figures.find((figure) => !figure.hidden);
      const map = shown ? Number(shown.dataset.storey) : here[0];
      let found = -1, least = Infinity;
      one.places.forEach(([onMap, x, y], position) => {
        if (onMap !== map || position === place) return;
        const along = (x - here[1]) * way[0] + (y - here[2]) * way[1];
        const across = Math.abs((x - here[1]) * way[1] + (y - here[2]) * way[0]);
        const far = along + 2 * across;
        if (along > 0.5 && far < least) { least = far; found = position; }
      });
      if (found >= 0) choose(found);
      return true;
    };
    maps.addEventListener("keydown", (event) => {
      const station = event.target.closest("[data-station]");
      if (station && (event.key === "Enter" || event.key === " " || ways[event.key])) take(radioOf(station));
      if (step(event) || (station && (event.key === "Enter" || event.key === " "))) event.preventDefault();
    });
    document.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && !inputs.find((input) => input.checked && input.value === "")) back();
    });
    all("[data-station]", maps).forEach((station) => {
      const name = station.dataset.station;
      if (!data.radios.some((one) => one.device < 0 && one.name === name)) return;
      station.setAttribute("tabindex", "0");
      station.setAttribute("role", "button");
      station.setAttribute("aria-label", fill(words.take, { radio: name }));
      station.classList.add("movable");
    });

    const restore = () => {
      const kept = /^#try=(?:(\d+)\.(\d+)|(c\d+))$/.exec(location.hash);
      if (!kept) return;
      if (kept[3]) {
        const input = inputs.find((one) => one.value === kept[3]);
        if (input) input.click();
        return;
      }
      const [next, to] = [Number(kept[1]), Number(kept[2])];
      if (!data.radios[next] || !data.radios[next].places[to]) return;
      take(next);
      choose(to);
      storeyOf(data.radios[next].places[to][0]);
    };
    trial.hidden = false;
    all(".trial-help").forEach((help) => { help.hidden = false; });
    reset(-1);
    window.addEventListener("hashchange", restore);
    restore();
  }

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
