// A part in two sections with its dimensions: the solid is cut here, in the browser. Each dimension is a button: it is
// typed, or says why it cannot be. Events: typed.
import { GLTFLoader } from "nicegui-scene";
import { cutPath, dimensionLines } from "nw-section";

export default {
  template: `
  <div class="section-sheet" :data-cut="part ? state : 'none'" :data-shown="part ? part.part : ''">
    <svg v-if="part" ref="svg" :viewBox="view" role="group" :aria-label="'Sections of ' + part.part">
      <defs>
        <pattern :id="'cut-' + uid" :width="letter / 2" :height="letter / 2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path :d="'M0 0V' + letter" class="hatch" :stroke-width="letter / 14"/></pattern>
        <marker :id="'tip-' + uid" viewBox="0 0 8 6" refX="7.5" refY="3" markerWidth="7" markerHeight="6" orient="auto-start-reverse"><path d="M0 .6 8 3 0 5.4z" class="tip"/></marker>
      </defs>
      <g v-for="(one, n) in views" :key="one.name" :transform="'translate(' + one.x + ' ' + one.y + ')'">
        <rect v-for="(thing, m) in one.things" :key="m" class="thing" :x="thing[0]" :y="high - thing[1] - thing[3]" :width="thing[2]" :height="thing[3]"/>
        <path v-if="cuts[n]" class="cut" fill-rule="evenodd" :d="cuts[n]" :fill="'url(#cut-' + uid + ')'"/>
        <rect v-else class="waits" x="0" y="0" :width="one.wide" :height="high"/>
        <g v-for="line in one.lines" :key="line.key">
          <path class="witness" :d="line.witness"/>
          <path class="dim" :d="line.line" :marker-start="line.narrow ? null : tip" :marker-end="line.narrow ? null : tip"/>
        </g>
        <text class="name" :x="one.wide / 2" :y="one.foot" :style="{ fontSize: letter * 0.85 + 'px' }">{{ one.name }}</text>
        <g v-for="place in one.lines" :key="'v' + place.key" class="value" :class="{ typed: place.typed, open: now && now.key === place.key }"  role="button" tabindex="0"
           :aria-label="say(place)" :data-dim="place.key"
           @click="ask(place)" @keydown.enter.prevent="ask(place)" @keydown.space.prevent="ask(place)">
          <title>{{ say(place) }}</title>
          <rect :x="place.x - half(place)" :y="place.y - letter * 0.75" :width="2 * half(place)" :height="letter * 1.5"/>
          <text :x="place.x" :y="place.y + letter * 0.36" :style="{ fontSize: letter + 'px' }">{{ mm(place) }}</text>
        </g>
      </g>
    </svg>
    <p v-else>Parts are drawn here, with their dimensions, once the layout is made.</p>
    <p v-if="part && state === 'failed'" class="words">The solid could not be cut here, so that only its outer sizes are drawn.</p>
    <ul v-if="loose.length" class="loose" aria-label="Dimensions that are not drawn">
      <li v-for="one in loose" :key="one.key">
        <button class="plain" :class="{ given: !one.typed }" type="button" :data-dim="one.key" :aria-label="say(one)" @click="ask(one)">{{ one.name }}: {{ mm(one) }}</button>
      </li>
    </ul>
    <p class="why" role="status" data-why>{{ why }}</p>
    <form v-if="now" class="row" @submit.prevent="send" @keydown.esc.prevent="leave">
      <label :for="'dim-' + uid">{{ now.name }} (mm, cm, in)</label>
      <input :id="'dim-' + uid" ref="field" class="plain" v-model="typed" autocomplete="off" data-dim-field/>
      <button class="plain main" type="submit">Set</button><button class="plain" type="button" @click="leave">Leave it</button>
    </form>
  </div>`,
  props: { part: Object, src: String },
  emits: ["typed"],
  data: () => ({ now: null, typed: "", why: "", narrow: window.matchMedia("(max-width: 40rem)").matches, cuts: [], state: "waiting", uid: Math.random().toString(36).slice(2, 8) }),
  mounted() { this.live = true; this.load(); },
  unmounted() { this.live = false; },
  computed: {
    high() { return this.part.size[2]; },
    letter() {
      const [width, depth] = this.part.size;
      return Math.max(1.6, (this.narrow ? Math.max(width, depth) : width + depth) / (this.narrow ? 19 : 46));
    },
    tip() { return "url(#tip-" + this.uid + ")"; },
    views() {
      let [x, y] = [0, 0];
      return this.part.views.map((one) => {
        const box = [0, Math.min(0, ...one.things.map((thing) => this.high - thing[1] - thing[3])), one.wide, this.high];
        const lines = dimensionLines(this.part.dimensions.filter((dim) => dim.view === one.axis), this.high, box, this.letter);
        const room = this.room(lines, box);
        const made = { ...one, lines, x: x + (this.narrow ? 0 : -room[0]), y: y + (this.narrow ? -room[1] : 0), foot: room[3] + this.letter * 0.2, room };
        if (this.narrow) y += room[3] - room[1] + this.letter * 2.2; else x += room[2] - room[0] + this.letter;
        return made;
      });
    },
    view() {
      const rooms = this.views.map(({ x, y, room }) => [x + room[0], y + room[1], x + room[2], y + room[3]]);
      const [left, top] = [0, 1].map((n) => Math.min(...rooms.map((one) => one[n])));
      const [right, bottom] = [2, 3].map((n) => Math.max(...rooms.map((one) => one[n])));
      return [left, top, right - left, bottom - top + this.letter].join(" ");
    },
    loose() { return this.part ? this.part.dimensions.filter((one) => one.view < 0) : []; },
  },
  watch: {
    part(part, before) {
      const same = this.now && part && before && part.part === before.part && part.dimensions.some((one) => one.key === this.now.key && one.typed);
      if (!same) this.now = null; // else somebody is typing it while all is drawn anew
      if (!part || !before || part.part !== before.part) this.why = "";
      if (!part || !before || part.shape !== before.shape) { this.cuts = []; this.state = "waiting"; }
      this.load();
    },
    src() { this.load(); },
  },
  methods: {
    mm(one) {
      const parts = one.value < 1 || one.key.startsWith("lot.") ? 100 : 10; // a measured length is not rounded to a tenth
      return (Math.round(one.value * parts) / parts).toString();
    },
    say(one) { return one.name + ", " + this.mm(one) + " millimetres" + (one.typed ? ", type another" : ", why it is so"); },
    half(place) { return this.letter * Math.max(1.5, 0.32 * this.mm(place).length + 0.5); },
    room(lines, box) {
      const wide = this.letter * 2.6;
      box = [box[0] - this.letter * 0.6, box[1], box[2] + this.letter * 0.6, box[3]];
      const xs = lines.flatMap((line) => [line.x - wide, line.x + wide]);
      const ys = lines.flatMap((line) => [line.y - this.letter, line.y + this.letter]);
      return [Math.min(box[0], ...xs), Math.min(box[1], ...ys) - this.letter * 0.3, Math.max(box[2], ...xs), Math.max(box[3], ...ys) + this.letter * 1.2];
    },
    load() {
      const wanted = this.part && this.src ? `${this.part.shape} ${this.src}` : "";
      if (wanted === this.asked) return;
      this.asked = wanted;
      if (!wanted) return;
      const src = this.src;
      new GLTFLoader().load(
        src,
        (found) => { if (this.live && wanted === this.asked) this.cut(found.scene); },
        undefined,
        () => { if (this.live && wanted === this.asked) this.state = "failed"; },
      );
    },
    cut(root) {
      let solid = null;
      root.traverse((node) => { if (node.isMesh && !solid) solid = node.geometry; });
      if (!solid) { this.state = "failed"; return; }
      const [points, index] = [solid.attributes.position.array, solid.index && solid.index.array];
      this.cuts = this.part.views.map((one) => cutPath(points, index, one.axis, one.at, this.high));
      solid.dispose();
      this.state = "ready";
    },
    ask(place) {
      this.why = place.typed ? "" : `${place.name[0].toUpperCase()}${place.name.slice(1)}, ${this.mm(place)} mm: ${place.why}`;
      if (place.typed) this.open(place);
      else this.now = null;
    },
    open(place) {
      this.now = place;
      this.typed = place.entry || this.mm(place); // of several readings all stand there, lest one typed number replaces them
      this.$nextTick(() => { this.$refs.field.focus(); this.$refs.field.select(); });
    },
    send() { this.$emit("typed", { key: this.now.key, typed: this.typed }); this.leave(); },
    leave() {
      const place = this.$el.querySelector(`[data-dim="${CSS.escape(this.now.key)}"]`);
      this.now = null;
      if (place) place.focus();
    },
  },
};
