export const byId = (id) => document.getElementById(id);

/** An element with properties; `on…` listens, `data` and `aria` set attributes, text is never read as markup. */
export function make(name, properties = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (key.startsWith('on')) made.addEventListener(key.slice(2), value);
    else if (key in made && key !== 'list') made[key] = value;
    else made.setAttribute(key, value);
  }
  made.append(...children.filter((child) => child !== null && child !== undefined));
  return made;
}

/** A field with its label. */
export function field(label, input) {
  return make('label', {className: 'field'}, make('span', {textContent: label}), input);
}

export const options = (items, chosen) =>
    items.map((item) => make('option', {value: item.value ?? item, textContent: item.text ?? item, selected: (item.value ?? item) === chosen}));

/** A file handed to the person. */
export function hand(name, content, type) {
  const address = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], {type}));
  const link = make('a', {href: address, download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
