// Parts to look at from all sides, drawn when something changes and not otherwise: roughly at once, from rows of outer
// sizes, and each as its solid as soon as that has come. Events: pick.
import { THREE, OrbitControls, GLTFLoader } from "nicegui-scene";
import { bodiesIn, change, cornersOf, edgesTo, placeOf, roughBody } from "nw-round";

const shade = () => (document.body.classList.contains("body--dark") ? { line: 0x9fb8cc, back: 0x12283c } : { line: 0x37424c, back: 0xfbfaf6 });
const seen = (at) => Math.abs(at.x) < 0.94 && Math.abs(at.y) < 0.94;
const ROUGHLY = "Drawn roughly until the solids are there.";

export default {
  template: `
  <div class="solid-view">
    <div ref="stage" class="stage" role="img" tabindex="0" :aria-label="label" :data-state="state" :data-meshes="meshes" :data-triangles="triangles"
         :data-rough="roughs" :data-chosen="(chosen || []).join(' ')" @keydown="onKey" @pointerdown="onDown" @pointerup="onUp"></div>
    <p class="words" role="status">{{ words }}</p>
  </div>`,
  props: { subject: String, files: Array, rough: Array, label: String, chosen: Array },
  emits: ["pick"],
  data: () => ({ state: "empty", meshes: 0, triangles: 0, roughs: 0, words: "" }),
  mounted() {
    this.live = true;
    this.bodies = new Map(); // by name: the body, its row, whether it is solid
    this.asked = [];
    try {
      this.setUp();
    } catch (error) {
      this.state = "no-3d";
      this.words = "This browser draws nothing in three dimensions; the drawings show the same.";
      return;
    }
    this.refresh();
  },
  unmounted() {
    this.live = false;
    if (!this.three) return;
    this.three.watch.disconnect();
    this.three.tint.disconnect();
    this.clear();
    this.three.controls.dispose();
    this.three.renderer.dispose();
  },
  computed: {
    wanted() { return [this.subject, this.files, this.rough]; },
    rows() { return new Map((this.rough || []).map((row) => [row.name, row])); },
  },
  watch: {
    wanted() { this.refresh(); },
    chosen() { this.mark(); },
  },
  methods: {
    setUp() {
      const renderer = new THREE.WebGLRenderer({ antialias: true, preserveDrawingBuffer: true });
      renderer.setPixelRatio(Math.min(2, window.devicePixelRatio));
      const scene = new THREE.Scene();
      const camera = new THREE.PerspectiveCamera(35, 1, 0.001, 50);
      const controls = new OrbitControls(camera, renderer.domElement);
      scene.add(new THREE.HemisphereLight(0xffffff, 0x6a6f74, 1.5));
      const sun = new THREE.DirectionalLight(0xffffff, 1.3);
      sun.position.set(-1, 2, 1.4);
      scene.add(sun);
      const root = new THREE.Group();
      scene.add(root);
      this.$refs.stage.append(renderer.domElement);
      controls.addEventListener("change", () => this.draw());
      controls.addEventListener("start", () => { this.three.turned = true; });
      const watch = new ResizeObserver(() => this.fit());
      watch.observe(this.$refs.stage);
      const tint = new MutationObserver(() => this.draw());
      tint.observe(document.body, { attributes: true, attributeFilter: ["class"] });
      this.three = { renderer, scene, camera, controls, watch, tint, root, placed: "" };
    },
    refresh() {
      if (!this.three || !this.subject) return;
      if (this.seen !== this.subject) this.clear();
      this.seen = this.subject;
      if (!this.bodies.size) this.state = "loading";
      this.match();
      this.fetchNew();
      this.settle();
    },
    // what is shown follows the rows: what is only elsewhere moves, what is otherwise is drawn roughly
    match() {
      for (const [name, one] of this.bodies) {
        const how = this.rows.size ? change(one.row, this.rows.get(name) || null) : "same";
        if (how === "moved") {
          one.body.matrix.copy(placeOf(this.rows.get(name)));
          one.body.matrixWorldNeedsUpdate = true;
          one.row = this.rows.get(name);
        } else if (how === "other") this.drop(name);
      }
      for (const [name, row] of this.rows) if (!this.bodies.has(name)) this.put(name, roughBody(row), row, false);
    },
    fetchNew() {
      const files = [...(this.files || [])];
      if (!this.asked.every((one, n) => one === files[n])) { this.asked = []; this.old = new Set(this.bodies.keys()); }
      for (const file of files.slice(this.asked.length)) {
        this.asked.push(file);
        this.waits = (this.waits || 0) + 1;
        const asked = this.asked;
        const done = (take) => {
          this.waits -= 1;
          if (!this.live || !asked.includes(file) || asked !== this.asked) return;
          take();
          this.settle();
        };
        new GLTFLoader().load(file, (found) => done(() => this.take(found.scene)), undefined, () => done(() => {
          this.failed = true;
          this.words = "The solids could not be fetched.";
        }));
      }
    },
    take(scene) {
      for (const [name, body] of bodiesIn(scene)) {
        const row = this.rows.get(name);
        if (this.rows.size && (!row || !row.shape)) { this.scrap(body); continue; } // gone, or another one since
        if (row) body.matrix.copy(placeOf(row));
        this.put(name, body, row, true);
        if (this.old) this.old.delete(name);
      }
      if (this.rows.size) return;
      for (const [name, { solid }] of this.bodies) if (!solid) this.drop(name); // drawn roughly until this came
      if (this.old) { this.old.forEach((name) => this.drop(name)); this.old = null; }
    },
    put(name, body, row, solid) {
      this.drop(name);
      body.name = name;
      this.bodies.set(name, { body, row, solid });
      this.three.root.add(body);
    },
    drop(name) {
      const one = this.bodies.get(name);
      if (!one) return;
      this.bodies.delete(name);
      this.three.root.remove(one.body);
      this.scrap(one.body);
    },
    scrap(body) { body.traverse((one) => { one.geometry.dispose(); one.material.dispose(); }); },
    clear() {
      for (const name of [...this.bodies.keys()]) this.drop(name);
      this.asked = [];
      this.failed = false;
      this.three.placed = "";
    },
    // count what is shown, say how it is drawn, and draw it
    settle() {
      const shown = [...this.bodies.values()];
      this.roughs = shown.filter((one) => !one.solid).length;
      this.meshes = shown.length - this.roughs;
      this.triangles = shown.filter((one) => one.solid).reduce((sum, { body }) => sum + (body.geometry.index || body.geometry.attributes.position).count / 3, 0);
      if (!this.failed) this.words = this.roughs ? ROUGHLY : "";
      if (!shown.length) { if (this.failed) this.state = "failed"; return; }
      if (this.three.placed !== this.subject) this.look();
      this.mark();
      this.fit();
    },
    // from in front and above, as near as all of it can be seen
    look() {
      const three = this.three;
      const { clientWidth: wide, clientHeight: high } = this.$refs.stage;
      three.root.updateMatrixWorld(true);
      const around = new THREE.Box3().setFromObject(three.root);
      const middle = around.getCenter(new THREE.Vector3());
      const reach = around.getSize(new THREE.Vector3()).length();
      three.controls.target.copy(middle);
      three.camera.aspect = wide / Math.max(1, high);
      three.camera.near = reach / 100;
      three.camera.far = reach * 20;
      three.camera.updateProjectionMatrix();
      const corners = cornersOf(around);
      for (let back = 0.6 * reach; back < 9 * reach; back *= 1.05) {
        three.camera.position.set(middle.x - 0.2 * back, middle.y + 1.1 * back, middle.z + back);
        three.camera.lookAt(middle);
        three.camera.updateMatrixWorld(true);
        if (corners.every((one) => seen(one.clone().project(three.camera)))) break;
      }
      three.placed = this.subject;
      three.turned = false;
    },
    mark() {
      if (!this.three) return;
      const chosen = new Set(this.chosen || []);
      for (const [name, { body }] of this.bodies) body.material.emissive.set(chosen.has(name) ? 0x0b5a8a : 0x000000);
      this.draw();
    },
    fit() {
      const three = this.three;
      const { clientWidth: wide, clientHeight: high } = this.$refs.stage;
      if (!wide || !high) return;
      const shape = wide / high;
      if (three.shape && three.shape !== shape && !three.turned && this.bodies.size) this.look();
      three.shape = shape;
      three.renderer.setSize(wide, high);
      three.camera.aspect = shape;
      three.camera.updateProjectionMatrix();
      three.controls.update();
      this.draw();
    },
    draw() {
      // once a frame, however many ask for it
      if (!this.drawing) this.drawing = requestAnimationFrame(() => this.drawNow());
    },
    drawNow() {
      const three = this.three;
      this.drawing = 0;
      if (!this.live) return;
      const { line, back } = shade();
      three.scene.background = new THREE.Color(back);
      edgesTo(three.root, line);
      three.renderer.render(three.scene, three.camera);
      if (!this.bodies.size) return;
      this.state = this.failed ? "failed" : this.roughs ? "rough" : this.waits ? "loading" : "ready";
    },
    onKey(event) {
      const by = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] }[event.key];
      const three = this.three;
      if (!by || !three) return;
      event.preventDefault();
      three.turned = true;
      const away = three.camera.position.clone().sub(three.controls.target);
      const round = new THREE.Spherical().setFromVector3(away);
      round.theta += by[0];
      round.phi = Math.max(0.05, Math.min(Math.PI - 0.05, round.phi + by[1]));
      three.camera.position.copy(three.controls.target).add(new THREE.Vector3().setFromSpherical(round));
      three.controls.update();
      this.draw();
    },
    onDown(event) { this.from = [event.clientX, event.clientY]; },
    onUp(event) {
      if (!this.three || !this.from) return;
      if (Math.hypot(event.clientX - this.from[0], event.clientY - this.from[1]) > 4) return;
      const stage = this.$refs.stage.getBoundingClientRect();
      const at = new THREE.Vector2(((event.clientX - stage.left) / stage.width) * 2 - 1, 1 - ((event.clientY - stage.top) / stage.height) * 2);
      const ray = new THREE.Raycaster();
      ray.setFromCamera(at, this.three.camera);
      const hit = ray.intersectObjects(this.three.root.children, false)[0];
      if (hit) this.$emit("pick", hit.object.name);
    },
  },
};
