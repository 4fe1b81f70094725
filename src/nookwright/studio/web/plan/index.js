// What may go where, under a hand: the same rules and words as arrangement.py, held together by a test.
// Pure: no document, no toolkit. Cells are counted from the front left corner.

export const overlap = (one, other) =>
  one.col < other.col + other.cols &&
  other.col < one.col + one.cols &&
  one.row < other.row + other.rows &&
  other.row < one.row + one.rows;

const covers = (item, [col, row]) =>
  item.col <= col && col < item.col + item.cols && item.row <= row && row < item.row + item.rows;

const round = (value) => {
  // as Python rounds: halves to the even neighbour
  const low = Math.floor(value);
  if (value - low !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
};

export const lyings = (size) =>
  size.may_turn && size.cols !== size.rows
    ? [[size.cols, size.rows], [size.rows, size.cols]]
    : [[size.cols, size.rows]];

const holds = (item, size) =>
  size.height <= item.height && lyings(size).some(([cols, rows]) => item.cols >= cols && item.rows >= rows);

const least = (sizes, module) =>
  [...new Set(sizes.map((one) => `${round(one.cols * module.pitch - module.gap)} x ${round(one.rows * module.pitch - module.gap)} mm`))]
    .slice(0, 3)
    .join(" or ");

// Why an item cannot stand in a sheet as it is; "" if it can. `wanted` is what its lot may be kept in, or null.
export function refusal(sheet, items, item, wanted, module) {
  if (item.level) return `${item.name} stands on another tray. Move the one below.`;
  if (!item.lot) return `${item.name} fills what is left: move a part there, and it gives way.`;
  if (item.cols < 1 || item.rows < 1) return `${item.name} needs at least one cell.`;
  if (item.col < 0 || item.row < 0 || item.col + item.cols > sheet.cols || item.row + item.rows > sheet.rows)
    return `${item.name} would stand out of ${sheet.name}.`;
  if (sheet.blocked.some((cell) => covers(item, cell))) return `${item.name} would stand where ${sheet.name} is blocked.`;
  if (item.tall > sheet.height)
    return `${item.name} needs ${round(item.tall)} mm of height, and ${round(sheet.height)} mm are clear in ${sheet.name}.`;
  if (wanted) {
    const why = wanted.refused[sheet.id];
    if (why) return `${item.name} may not go to ${sheet.name}: ${why}.`;
    if (!wanted.sizes.some((size) => holds(item, size)))
      return `${item.name} needs more: at least ${least(wanted.sizes, module)}.`;
  }
  const other = items.find((one) => one.id !== item.id && one.lot && !one.level && overlap(one, item));
  return other ? `${item.name} overlaps ${other.name}: letting go here puts it back.` : "";
}

// The cell nearest to where a hand holds an item, kept inside the sheet.
export function snapped(sheet, item, col, row) {
  return {
    ...item,
    col: Math.max(0, Math.min(sheet.cols - item.cols, Math.round(col))),
    row: Math.max(0, Math.min(sheet.rows - item.rows, Math.round(row))),
  };
}

// What an arrow key makes of an item: one cell on, or with `sizing` one cell larger or smaller.
export function stepped(item, key, sizing) {
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[key];
  if (!by) return null;
  return sizing
    ? { ...item, cols: Math.max(1, item.cols + by[0]), rows: Math.max(1, item.rows + by[1]) }
    : { ...item, col: item.col + by[0], row: item.row + by[1] };
}

// Items after a change: some of them otherwise, by their numbers in the list, and some gone. Those that stay as they are
// stay the same objects.
export function patched(items, changed, gone) {
  const other = new Map(changed);
  const left = new Set(gone);
  return items
    .map((one, number) => (other.has(number) ? Object.freeze({ ...one, ...other.get(number) }) : one))
    .filter((_, number) => !left.has(number));
}

// Items in the order in which they are read: from the front, then from the left.
export const reading = (items) => [...items].sort((a, b) => a.row - b.row || a.col - b.col || a.level - b.level);

// The next item in a direction, by the distance of middles; null where there is none.
export function neighbour(items, from, key) {
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[key];
  const middle = (one) => [one.col + one.cols / 2, one.row + one.rows / 2];
  const [x, y] = middle(from);
  let best = null;
  let nearest = Infinity;
  for (const one of items) {
    if (one.id === from.id) continue;
    const [dx, dy] = [middle(one)[0] - x, middle(one)[1] - y];
    const along = dx * by[0] + dy * by[1];
    const across = Math.abs(dx * by[1]) + Math.abs(dy * by[0]);
    if (along > 0.01 && along + 2 * across < nearest) [best, nearest] = [one, along + 2 * across];
  }
  return best;
}

// What a screen reader says of an item.
export const spoken = (item, module) =>
  `${item.name}, ${item.kind}, ${Math.round(item.cols * module.pitch - module.gap)} by ` +
  `${Math.round(item.rows * module.pitch - module.gap)} millimetres, ${Math.round(item.height)} high, ` +
  `${Math.round(item.col * module.pitch)} from the left, ${Math.round(item.row * module.pitch)} from the front` +
  `${item.stays ? ", stays" : ""}${item.level ? ", on another tray" : ""}`;
