// Readings that were typed, each with where the device and what received it hung: where one of them hangs elsewhere now, it does not count.

const csvText = (text) => `"${text.replaceAll('"', '""')}"`;
const placeOf = (radio) => (radio ? `${radio.storey} ${radio.at.join(' ')} ${radio.height}` : '');

export class Readings {
  #taken = new Map();  // by device: {percent, hung: [[kind, name, place], ...]}

  /** @param radio  finds a radio of the plan: (kind, name) */
  constructor(radio) { this.radio = radio; }

  get size() { return this.#taken.size; }
  clear() { this.#taken.clear(); }
  entries() { return [...this.#taken]; }

  /** What was kept of them; readings that say no places count as they are. */
  restore(entries) {
    this.#taken = new Map(entries.map(([name, one]) => [name, typeof one === 'number' ? {percent: one, hung: []} : one]));
  }

  /** @param link  how the device is received now: {hub, via}, or undefined */
  take(device, percent, link) {
    const radios = [['device', device], ...(link ? [['hub', link.hub], ...link.via.map((name) => ['repeater', name])] : [])];
    this.#taken.set(device, {percent, hung: radios.map(([kind, name]) => [kind, name, placeOf(this.radio(kind, name))])});
  }

  drop(device) { this.#taken.delete(device); }

  percent(device) { return this.#taken.get(device)?.percent; }

  /** What hangs elsewhere since it was read: `device`, `hub` or `repeater`; null: nothing does. @param moving  'kind/name' of what is dragged */
  moved(device, moving = null) {
    const found = this.#taken.get(device)?.hung.find(([kind, name, place]) => `${kind}/${name}` === moving || placeOf(this.radio(kind, name)) !== place);
    return found ? found[0] : null;
  }

  /** The reading of a device, where it counts. */
  counting(device, moving = null) { return this.moved(device, moving) ? undefined : this.percent(device); }

  csv(moving = null) {
    const rows = [...this.#taken].filter(([name]) => !this.moved(name, moving)).map(([name, {percent}]) => `${csvText(name)},${percent}\n`);
    return rows.length > 0 ? `device,percent\n${rows.join('')}` : '';
  }
}
