// Solids from a GLB, to look at from all sides: drawn when something changes and not otherwise. Events: pick.
import { THREE, OrbitControls, GLTFLoader } from "nicegui-scene";

const shade = () => (document.body.classList.contains("body--dark") ? { line: 0x9fb8cc, back: 0x12283c } : { line: 0x37424c, back: 0xfbfaf6 });

export default {
  template: `
  <div class="solid-view">
    <div ref="stage" class="stage" role="img" tabindex="0" :aria-label="label" :data-state="state" :data-meshes="meshes" :data-triangles="triangles"
         @keydown="onKey" @pointerdown="onDown" @pointerup="onUp"></div>
    <p class="words" role="status">{{ words }}</p>
  </div>`,
  props: { src: String, label: String, chosen: String },
  emits: ["pick"],
  data: () => ({ state: "empty", meshes: 0, triangles: 0, words: "" }),
  mounted() {
    this.live = true;
    try {
      this.setUp();
    } catch (error) {
      this.state = "no-3d";
      this.words = "This browser draws nothing in three dimensions; the drawings show the same.";
      return;
    }
    this.load();
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
  watch: {
    src() { this.load(); },
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
      this.$refs.stage.append(renderer.domElement);
      controls.addEventListener("change", () => this.draw());
      const watch = new ResizeObserver(() => this.fit());
      watch.observe(this.$refs.stage);
      const tint = new MutationObserver(() => this.draw());
      tint.observe(document.body, { attributes: true, attributeFilter: ["class"] });
      this.three = { renderer, scene, camera, controls, watch, tint, root: null };
    },
    load() {
      if (!this.three || !this.src) return;
      const src = this.src;
      this.state = "loading";
      new GLTFLoader().load(
        src,
        (found) => { if (this.live && src === this.src) this.show(found.scene); },
        undefined,
        () => { if (this.live && src === this.src) { this.state = "failed"; this.words = "The solids could not be fetched."; } },
      );
    },
    show(root) {
      const three = this.three;
      this.clear();
      let count = 0;
      let triangles = 0;
      root.traverse((node) => {
        if (!node.isMesh) return;
        count += 1;
        triangles += (node.geometry.index || node.geometry.attributes.position).count / 3;
        const colour = node.material.color.clone();
        node.material.dispose();
        node.material = new THREE.MeshStandardMaterial({ color: colour, roughness: 0.85, metalness: 0, flatShading: true });
      });
      three.root = root;
      three.scene.add(root);
      const box = new THREE.Box3().setFromObject(root);
      const middle = box.getCenter(new THREE.Vector3());
      const reach = box.getSize(new THREE.Vector3()).length();
      three.controls.target.copy(middle);
      const { clientWidth: wide, clientHeight: high } = this.$refs.stage;
      const back = reach * Math.max(1, high / Math.max(1, wide)); // all of it is seen in a narrow stage too
      three.camera.position.set(middle.x - 0.2 * back, middle.y + 1.1 * back, middle.z + back);
      three.camera.near = reach / 100;
      three.camera.far = reach * 20;
      this.meshes = count;
      this.triangles = triangles;
      this.words = "";
      this.mark();
      this.shown = this.src;
      this.fit();
    },
    clear() {
      const three = this.three;
      if (!three.root) return;
      three.root.traverse((node) => { if (node.isMesh) { node.geometry.dispose(); node.material.dispose(); } });
      three.scene.remove(three.root);
      three.root = null;
    },
    mark() {
      if (!this.three || !this.three.root) return;
      this.three.root.traverse((node) => {
        if (node.isMesh) node.material.emissive.set(this.named(node) === this.chosen && this.chosen ? 0x0b5a8a : 0x000000);
      });
      this.draw();
    },
    named(node) {
      for (let at = node; at; at = at.parent) if (at.userData && at.userData.name) return at.userData.name; else if (at.name && at.parent && at.parent.parent === this.three.root) return at.name;
      return node.name || (node.parent && node.parent.name) || "";
    },
    fit() {
      const three = this.three;
      const { clientWidth: wide, clientHeight: high } = this.$refs.stage;
      if (!wide || !high) return;
      three.renderer.setSize(wide, high);
      three.camera.aspect = wide / high;
      three.camera.updateProjectionMatrix();
      three.controls.update();
      this.draw();
    },
    draw() {
      // once a frame, however many ask for it
      if (!this.asked) this.asked = requestAnimationFrame(() => this.drawNow());
    },
    drawNow() {
      const three = this.three;
      this.asked = 0;
      if (!this.live) return;
      three.scene.background = new THREE.Color(shade().back);
      three.renderer.render(three.scene, three.camera);
      if (three.root && this.state === "loading" && this.shown === this.src) this.state = "ready";
    },
    onKey(event) {
      const by = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] }[event.key];
      const three = this.three;
      if (!by || !three) return;
      event.preventDefault();
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
      if (!this.three || !this.three.root || !this.from) return;
      if (Math.hypot(event.clientX - this.from[0], event.clientY - this.from[1]) > 4) return;
      const box = this.$refs.stage.getBoundingClientRect();
      const at = new THREE.Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
      const ray = new THREE.Raycaster();
      ray.setFromCamera(at, this.three.camera);
      const hit = ray.intersectObject(this.three.root, true)[0];
      if (hit) this.$emit("pick", this.named(hit.object));
    },
  },
};
