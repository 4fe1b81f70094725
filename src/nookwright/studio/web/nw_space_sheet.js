// The inside of a space from above, with what is blocked in it; boxes are dragged to where they are. Events: moved.
export default {
  template: `
  <div class="space-sheet">
    <svg v-if="width && depth" ref="svg" :viewBox="view" role="group" :aria-label="'The inside of ' + name" @pointermove="onMove" @pointerup="onUp" @pointercancel="hand = null">
      <defs><pattern :id="'blocked-' + uid" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V8" class="hatch"/></pattern></defs>
      <rect class="wall" x="0" y="0" :width="width" :height="depth"/>
      <g v-for="(box, n) in drawn" :key="n" class="box" role="button" tabindex="0" :data-box="n" :class="{ service: box.service }"
         :aria-label="say(box)" @pointerdown="onDown($event, n)" @keydown="onKey($event, n)">
        <title>{{ say(box) }}</title>
        <rect :x="box.x" :y="depth - box.y - box.depth" :width="box.width" :height="box.depth" :fill="'url(#blocked-' + uid + ')'"/>
        <text :x="box.x + box.width / 2" :y="depth - box.y - box.depth / 2" :style="{ fontSize: letter + 'px' }">{{ box.reason }}</text>
      </g>
      <g class="dims">
        <text :x="width / 2" :y="depth + letter * 1.5" :style="{ fontSize: letter + 'px' }">{{ mm(width) }}, front</text>
        <text :x="-letter" :y="depth / 2" :style="{ fontSize: letter + 'px' }" :transform="'rotate(-90 ' + -letter + ' ' + depth / 2 + ')'">{{ mm(depth) }}</text>
      </g>
    </svg>
    <p v-else>Type in width and depth; then the space is drawn here.</p>
    <p class="words" role="status" aria-live="polite">{{ words }}</p>
  </div>`,
  props: { name: String, width: Number, depth: Number, boxes: Array },
  emits: ["moved"],
  data: () => ({ hand: null, uid: Math.random().toString(36).slice(2, 8) }),
  computed: {
    letter() { return Math.max(this.width, this.depth) / 32; },
    view() { const m = this.letter * 2.4; return [-m, -m / 3, this.width + 1.4 * m, this.depth + 1.3 * m].join(" "); },
    drawn() { return this.boxes.map((box, n) => (this.hand && this.hand.n === n ? this.hand.box : box)); },
    words() { return this.hand ? this.say(this.hand.box) : ""; },
  },
  methods: {
    mm(length) { return (Math.round(length * 10) / 10).toString(); },
    say(box) { return `${box.reason}: ${this.mm(box.x)} from the left, ${this.mm(box.y)} from the front, ${this.mm(box.width)} x ${this.mm(box.depth)} mm`; },
    point(event) {
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.$refs.svg.getScreenCTM().inverse());
      return [at.x, this.depth - at.y];
    },
    kept(box) {
      return { ...box, x: Math.round(Math.max(0, Math.min(this.width - box.width, box.x))), y: Math.round(Math.max(0, Math.min(this.depth - box.depth, box.y))) };
    },
    onDown(event, n) {
      if (event.button !== 0) return;
      const [x, y] = this.point(event);
      this.hand = { n, box: this.boxes[n], dx: x - this.boxes[n].x, dy: y - this.boxes[n].y };
      this.$refs.svg.setPointerCapture(event.pointerId);
    },
    onMove(event) {
      if (!this.hand) return;
      const [x, y] = this.point(event);
      this.hand.box = this.kept({ ...this.hand.box, x: x - this.hand.dx, y: y - this.hand.dy });
    },
    onUp() {
      const hand = this.hand;
      this.hand = null;
      if (hand && (hand.box.x !== this.boxes[hand.n].x || hand.box.y !== this.boxes[hand.n].y)) this.$emit("moved", { n: hand.n, x: hand.box.x, y: hand.box.y });
    },
    onKey(event, n) {
      const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (!by) return;
      event.preventDefault();
      const step = event.shiftKey ? 10 : 1;
      const box = this.kept({ ...this.boxes[n], x: this.boxes[n].x + step * by[0], y: this.boxes[n].y + step * by[1] });
      this.$emit("moved", { n, x: box.x, y: box.y });
    },
  },
};
