// Bodies to look at: rough ones made here of outer sizes, and solid ones as they come in files. Lengths are mm in rows,
// metres with y up in the scene, as in the files.
import { THREE } from "nicegui-scene";

const UP = new THREE.Matrix4().set(0.001, 0, 0, 0, 0, 0, 0.001, 0, 0, -0.001, 0, 0, 0, 0, 0, 1);

export const shade = (colour) => new THREE.MeshLambertMaterial({ color: colour, flatShading: true });

// Where a row says that a part is, as a matrix of the scene.
export function placeOf(row) {
  const [a, b, c, d, e, f, g, h, i, j, k, l] = row.place;
  return UP.clone().multiply(new THREE.Matrix4().set(a, b, c, d, e, f, g, h, i, j, k, l, 0, 0, 0, 1));
}

const box = (size, at) => {
  const made = new THREE.BoxGeometry(...size);
  made.translate(...size.map((one, n) => at[n] + one / 2));
  return made;
};

// A part as a box, or with walls and a floor where it is open above.
export function roughBody(row) {
  const [wide, deep, high] = row.size;
  const wall = row.wall;
  const boxes = wall
    ? [
        box([wide, deep, wall], [0, 0, 0]),
        box([wide, wall, high], [0, 0, 0]),
        box([wide, wall, high], [0, deep - wall, 0]),
        box([wall, deep, high], [0, 0, 0]),
        box([wall, deep, high], [wide - wall, 0, 0]),
      ]
    : [box([wide, deep, high], [0, 0, 0])];
  const body = new THREE.Mesh(joined(boxes), shade(row.colour));
  const outer = box([wide, deep, high], [0, 0, 0]);
  body.add(new THREE.LineSegments(new THREE.EdgesGeometry(outer), new THREE.LineBasicMaterial()));
  outer.dispose();
  return placed(body, placeOf(row));
}

function joined(boxes) {
  const made = new THREE.BufferGeometry();
  for (const name of ["position", "normal"]) {
    const parts = boxes.map((one) => one.attributes[name].array);
    const all = new Float32Array(parts.reduce((sum, one) => sum + one.length, 0));
    parts.reduce((at, one) => { all.set(one, at); return at + one.length; }, 0);
    made.setAttribute(name, new THREE.BufferAttribute(all, 3));
  }
  const corners = boxes[0].attributes.position.count;
  made.setIndex(boxes.flatMap((one, n) => Array.from(one.index.array, (corner) => corner + n * corners)));
  boxes.forEach((one) => one.dispose());
  return made;
}

function placed(body, matrix) {
  body.matrixAutoUpdate = false;
  body.matrix.copy(matrix);
  body.matrixWorldNeedsUpdate = true;
  return body;
}

// The edges of what is drawn roughly in the colour of ink: neighbours of one filament would run into each other.
export function edgesTo(root, colour) {
  for (const body of root.children) for (const one of body.children) one.material.color.set(colour);
}

// The corners of a box.
export function cornersOf({ min, max }) {
  return [min.x, max.x].flatMap((x) => [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new THREE.Vector3(x, y, z))));
}

// Solid bodies of a file by their names, taken out of its scene.
export function bodiesIn(scene) {
  const found = [];
  scene.updateMatrixWorld(true);
  scene.traverse((node) => { if (node.isMesh) found.push(node); });
  return found.map((node) => {
    const colour = node.material.color.clone(); // linear in the file, linear here: the renderer makes sRGB of it
    node.material.dispose();
    node.material = shade(colour);
    return [nameOf(node, scene), placed(node, node.matrixWorld.clone())];
  });
}

function nameOf(node, scene) {
  for (let at = node; at && at !== scene; at = at.parent) if (at.userData && at.userData.name) return at.userData.name;
  return node.name;
}

// What becomes of a body when its row is another one: "same", "moved", or "other" where it has to be made anew.
export function change(before, after) {
  if (!before || !after || before.shape !== after.shape || before.colour !== after.colour || before.size.join() !== after.size.join()) return "other";
  return before.place.join() === after.place.join() ? "same" : "moved";
}
