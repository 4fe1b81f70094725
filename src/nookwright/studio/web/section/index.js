// A section through triangles, and where dimension lines lie beside it. Pure functions: nothing here draws or asks.

// Where a plane cuts triangles: closed outlines as one path, for the fill rule "evenodd".
// points: flat coordinates; index: corners of triangles, or nothing where they come in order; axis: 0 along x, 1 along y;
// at: where the plane lies along the other axis; high: what z is measured down from, as screens have it.
export function cutPath(points, index, axis, at, high) {
  return loops(segments(points, index, axis, at)).map((loop) => "M" + loop.map(([a, z]) => `${fixed(a)} ${fixed(high - z)}`).join("L") + "Z").join("");
}

const fixed = (length) => Number(length.toFixed(3));

// Pieces of the cut, each from a point to a point, both named by the edge of the mesh that they lie on.
function segments(points, index, axis, at) {
  const beyond = 1 - axis;
  const found = [];
  const names = new Map();
  const nameOf = (corner) => {
    const key = `${points[3 * corner]} ${points[3 * corner + 1]} ${points[3 * corner + 2]}`;
    if (!names.has(key)) names.set(key, names.size);
    return names.get(key);
  };
  const count = index ? index.length : points.length / 3;
  for (let start = 0; start < count; start += 3) {
    const corners = [0, 1, 2].map((n) => (index ? index[start + n] : start + n));
    const off = corners.map((corner) => points[3 * corner + beyond] - at);
    if (off.every((one) => one < 0) || off.every((one) => one >= 0)) continue;
    const ends = [];
    for (let n = 0; n < 3; n += 1) {
      const [i, j] = [n, (n + 1) % 3];
      if (off[i] < 0 === off[j] < 0) continue;
      const share = off[i] / (off[i] - off[j]);
      const [p, q] = [3 * corners[i], 3 * corners[j]];
      const pair = [nameOf(corners[i]), nameOf(corners[j])].sort((a, b) => a - b);
      const where = [axis, 2].map((k) => points[p + k] + share * (points[q + k] - points[p + k]));
      // entering and leaving tell the sense of the outline
      ends.push({ key: pair.join(" "), where, first: off[i] < 0 });
    }
    if (ends.length === 2) found.push(ends[0].first ? [ends[0], ends[1]] : [ends[1], ends[0]]);
  }
  return found;
}

// Pieces put together to closed outlines.
function loops(pieces) {
  const after = new Map(pieces.map((piece) => [piece[0].key, piece]));
  const made = [];
  while (after.size) {
    const [first] = after.keys();
    const loop = [];
    for (let piece = after.get(first); piece; piece = after.get(piece[1].key)) {
      after.delete(piece[0].key);
      loop.push(piece[0].where);
    }
    if (loop.length > 2) made.push(straight(loop));
  }
  return made;
}

// An outline without the points that lie on a straight line between their neighbours.
function straight(loop) {
  const kept = loop.filter((at, n) => {
    const [before, after] = [loop[(n + loop.length - 1) % loop.length], loop[(n + 1) % loop.length]];
    const bend = (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0]);
    return Math.abs(bend) > 1e-6;
  });
  return kept.length > 2 ? kept : loop;
}

// Dimension lines of one section, each with its line, its two witness lines and where its figure stands, in the drawing's mm
// with y downwards. Lines of one side lie the further out, the longer they are.
// box: left, top, right, bottom of what is drawn; letter: height of a figure.
export function dimensionLines(dimensions, high, box, letter) {
  return ["below", "above", "left", "right"].flatMap((side) => {
    const here = dimensions.filter((one) => one.side === side);
    here.sort((a, b) => reach(a) - reach(b));
    return here.map((one, level) => lineOf(one, high, box, letter, side, level));
  });
}

const reach = (one) => Math.hypot(one.end[0] - one.start[0], one.end[1] - one.start[1]);

function lineOf(one, high, box, letter, side, level) {
  const [x0, y0, x1, y1] = [one.start[0], high - one.start[1], one.end[0], high - one.end[1]];
  const flat = side === "below" || side === "above";
  const step = letter * (flat ? 2.1 : 4.6);
  const out = letter * (flat ? 1.4 : 2.6) + level * step;
  const at = { below: box[3] + out, above: box[1] - out, left: box[0] - out, right: box[2] + out }[side];
  const over = (side === "below" || side === "right" ? 1 : -1) * letter * 0.4;
  const narrow = flat ? Math.abs(x1 - x0) < letter * 4.2 : Math.abs(y1 - y0) < letter * 1.7;
  if (flat) {
    const [a, b] = [Math.min(x0, x1), Math.max(x0, x1)];
    return { ...one, narrow, line: `M${a} ${at}H${b}`, witness: `M${x0} ${y0}V${at + over}M${x1} ${y1}V${at + over}`, x: narrow ? b + letter * 2.7 : (a + b) / 2, y: at };
  }
  const [a, b] = [Math.min(y0, y1), Math.max(y0, y1)];
  return { ...one, narrow, line: `M${at} ${a}V${b}`, witness: `M${x0} ${y0}H${at + over}M${x1} ${y1}H${at + over}`, x: at, y: narrow ? a - letter * 1.1 : (a + b) / 2 };
}
