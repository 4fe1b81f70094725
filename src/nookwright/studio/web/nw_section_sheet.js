// A part in section, twice, with its dimensions; a dimension that may be typed is a button. Events: typed.
export default {
  template: `
  <div class="section-sheet">
    <svg v-if="part" ref="svg" :viewBox="view" role="group" :aria-label="'Sections of ' + part.part">
      <defs>
        <pattern :id="'cut-' + uid" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V3" class="hatch"/></pattern>
        <marker :id="'tip-' + uid" viewBox="0 0 8 6" refX="7.5" refY="3" markerWidth="7" markerHeight="6" orient="auto-start-reverse"><path d="M0 .6 8 3 0 5.4z" class="tip"/></marker>
      </defs>
      <g v-for="one in views" :key="one.name" :transform="'translate(' + one.x + ' 0)'">
        <path class="cut" :d="one.cut" :fill="'url(#cut-' + uid + ')'"/>
        <rect v-for="(thing, n) in one.things" :key="n" class="thing" :x="thing[0]" :y="high - thing[1] - thing[3]" :width="thing[2]" :height="thing[3]"/>
        <path class="dim" :d="'M0 ' + (high + gap) + 'H' + one.wide" :marker-start="tip" :marker-end="tip"/>
        <text class="name" :x="one.wide / 2" :y="high + gap * 2.6" :style="{ fontSize: letter * 0.8 + 'px' }">{{ one.name }}</text>
      </g>
      <path class="dim" :d="'M' + (-letter * 3.2) + ' 0V' + high" :marker-start="tip" :marker-end="tip"/>
      <g v-for="place in places" :key="place.key" class="value" :class="{ typed: place.typed }" :role="place.typed ? 'button' : null" :tabindex="place.typed ? 0 : null"
         :aria-label="place.name + ', ' + mm(place.value) + ' millimetres' + (place.typed ? ', type another' : '')" :data-dim="place.key"
         @click="place.typed && open(place)" @keydown.enter.prevent="place.typed && open(place)" @keydown.space.prevent="place.typed && open(place)">
        <rect :x="place.x - letter * 2" :y="place.y - letter * 0.9" :width="letter * 4" :height="letter * 1.5"/>
        <text :x="place.x" :y="place.y + letter * 0.25" :style="{ fontSize: letter + 'px' }">{{ mm(place.value) }}</text>
      </g>
    </svg>
    <p v-else>Parts are drawn here once the layout is made; the page Survey says what it still needs.</p>
    <form v-if="now" class="row" @submit.prevent="send">
      <label :for="'dim-' + uid">{{ now.name }}</label>
      <input :id="'dim-' + uid" ref="field" class="plain" v-model="typed" inputmode="decimal" autocomplete="off" data-dim-field @keydown.esc="leave"/>
      <button class="plain main" type="submit">Set</button><button class="plain" type="button" @click="leave">Leave it</button>
    </form>
  </div>`,
  props: { part: Object },
  emits: ["typed"],
  data: () => ({ now: null, typed: "", narrow: window.matchMedia("(max-width: 40rem)").matches, uid: Math.random().toString(36).slice(2, 8) }),
  computed: {
    high() { return this.part.size[2]; },
    gap() { return this.letter * 1.2; },
    letter() { return Math.max(4, (this.part.size[0] + this.part.size[1]) / (this.narrow ? 26 : 55)); },
    tip() { return "url(#tip-" + this.uid + ")"; },
    between() { return this.letter * 3; },
    top() { return Math.min(0, ...[...this.part.across, ...this.part.along].map((one) => this.high - one[1] - one[3])); },
    view() {
      const left = this.letter * 6;
      const wide = this.part.size[0] + this.part.size[1] + this.between;
      return [-left, this.top - this.letter, wide + left + this.letter, this.high - this.top + this.letter * 6].join(" ");
    },
    views() {
      const [width, depth] = this.part.size;
      return [
        { name: "along the width", x: 0, wide: width, things: this.part.across, cut: this.outline(width) },
        { name: "along the depth", x: width + this.between, wide: depth, things: this.part.along, cut: this.outline(depth) },
      ];
    },
    places() {
      const [width, depth] = this.part.size;
      const at = {
        width: [width / 2, this.high + this.gap],
        depth: [width + this.between + depth / 2, this.high + this.gap],
        height: [-this.letter * 3.2, this.high / 2],
      };
      return this.part.dimensions.filter((one) => at[one.key]).map((one) => ({ ...one, x: at[one.key][0], y: at[one.key][1] }));
    },
  },
  watch: { part() { this.now = null; } },
  methods: {
    mm(length) { return (Math.round(length * 10) / 10).toString(); },
    outline(wide) {
      const [wall, floor, high] = [Math.max(0.8, this.part.wall), Math.max(0.8, Math.min(this.part.floor, this.high)), this.high];
      return `M0 0H${wall}V${high - floor}H${wide - wall}V0H${wide}V${high}H0Z`;
    },
    open(place) {
      this.now = place;
      this.typed = this.mm(place.value);
      this.$nextTick(() => { this.$refs.field.focus(); this.$refs.field.select(); });
    },
    send() { this.$emit("typed", { key: this.now.key, typed: this.typed }); this.leave(); },
    leave() {
      const place = this.$refs.svg.querySelector(`[data-dim="${CSS.escape(this.now.key)}"]`);
      this.now = null;
      if (place) place.focus();
    },
  },
};
