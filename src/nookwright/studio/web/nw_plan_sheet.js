// One space in plan, drawn to scale, with parts that a hand or the keyboard moves. The browser owns a gesture until it ends;
// then one event goes out, and what comes next is the truth: all of it as props, or only what was changed by `patch`, which
// keeps a gesture from costing what the whole plan costs. Events: gesture, pick, back, again, lost. Methods: refuse, patch.
import { overlap, neighbour, patched, reading, refusal, snapped, spoken, stepped } from "nw-plan";

const MARGIN = 34; // around the space, mm of the drawing
const LARGEST = 1.9; // CSS pixels a millimetre: a small drawer is not drawn with letters as large as headlines
const NOTHING = Object.freeze({ items: Object.freeze([]), rev: 0, state: 0 });

export default {
  template: `
  <div class="plan-sheet">
    <svg v-if="sheet" ref="svg" :viewBox="viewBox" :style="{ maxWidth: LARGEST * (sheet.size[0] + MARGIN + 8) + 'px' }" role="group" :aria-label="'Plan of ' + sheet.name" preserveAspectRatio="xMidYMid meet"
         :data-rev="live.rev" :data-space="sheet.id" :data-size="sheet.cols + ' ' + sheet.rows" :data-busy="hand || waiting ? 'yes' : 'no'"
         @pointermove="onMove" @pointerup="onUp" @pointercancel="letGo" @keydown="onKey">
      <defs>
        <pattern :id="ids.hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" class="hatch"/></pattern>
        <marker :id="ids.tip" viewBox="0 0 8 6" refX="7.5" refY="3" markerWidth="8" markerHeight="6" orient="auto-start-reverse">
          <path d="M0 .6 8 3 0 5.4z" class="tip"/></marker>
      </defs>
      <rect class="wall" :x="-sheet.origin[0]" :y="wallTop" :width="sheet.size[0]" :height="sheet.size[1]"/>
      <path class="grid" :d="gridPath"/>
      <rect v-for="c in sheet.blocked" :key="'b' + c" class="blocked" :fill="'url(#' + ids.hatch + ')'"
            :x="c[0] * pitch" :y="top(c[1], 1)" :width="pitch" :height="pitch"/>
      <g v-for="item in drawn" :key="item.id" v-memo="looks(item)" class="tray" role="button" :data-id="item.id"
         :data-cells="[item.col, item.row, item.cols, item.rows].join(' ')"
         :class="{ picked: item.id === picked, stays: item.stays, filler: !item.lot, faded: hand && hand.item.id === item.id, found: item.found, upper: item.level }"
         :tabindex="item.id === tabStop ? 0 : -1" :aria-label="say(item)" :aria-pressed="item.id === picked"
         @pointerdown="onDown($event, item)" @focus="pick(item.id)" @dblclick.prevent="send('turn', item, {})">
        <title>{{ say(item) }}</title>
        <rect :x="left(item)" :y="upper(item)" :width="wide(item)" :height="deep(item)" :rx="5"/>
        <text v-if="fits(item)" :x="left(item) + wide(item) / 2" :y="upper(item) + deep(item) / 2" class="name"
              :style="{ fontSize: letter(item) + 'px' }" :transform="upright(item)">
          <tspan v-for="(line, n) in lines(item)" :key="n" :x="left(item) + wide(item) / 2" :dy="n ? '1.1em' : (0.35 - 0.55 * (lines(item).length - 1)) + 'em'">{{ line }}</tspan></text>
        <path v-if="item.stays" class="nail" :d="nail(item)"/>
      </g>
      <g v-if="shown" class="ghost" :class="{ bad: why }" pointer-events="none">
        <rect :x="left(shown)" :y="upper(shown)" :width="wide(shown)" :height="deep(shown)" :rx="5"/>
        <g class="dims">
          <path :d="'M' + left(shown) + ' ' + (floor + 8) + 'H' + (left(shown) + wide(shown))" :marker-start="'url(#' + ids.tip + ')'" :marker-end="'url(#' + ids.tip + ')'"/>
          <text :x="left(shown) + wide(shown) / 2" :y="floor + 19">{{ mm(wide(shown)) }}</text>
          <path :d="'M' + (-sheet.origin[0] - 8) + ' ' + upper(shown) + 'V' + (upper(shown) + deep(shown))" :marker-start="'url(#' + ids.tip + ')'" :marker-end="'url(#' + ids.tip + ')'"/>
          <text :x="-sheet.origin[0] - 11" :y="upper(shown) + deep(shown) / 2" class="side" :transform="'rotate(-90 ' + (-sheet.origin[0] - 11) + ' ' + (upper(shown) + deep(shown) / 2) + ')'">{{ mm(deep(shown)) }}</text>
        </g>
      </g>
      <rect v-if="grip" class="grip" :x="left(grip) + wide(grip) - 9" :y="upper(grip) + 1" width="8" height="8" @pointerdown.stop="onSize($event, grip)">
        <title>Drag to resize</title></rect>
      <text class="front" :x="sheet.size[0] / 2 - sheet.origin[0]" :y="floor + 30">front</text>
    </svg>
    <p v-else>The plan is drawn here once it is made.</p>
    <p class="plan-words" role="status" aria-live="polite" data-words>{{ words }}</p>
  </div>`,
  props: { sheet: Object, items: Array, lots: Array, module: Object, rev: Number, state: Number, chosen: String, spaces: Object },
  emits: ["gesture", "pick", "back", "again", "lost"],
  data: () => ({ live: NOTHING, hand: null, pending: null, waiting: false, queue: [], said: "", picked: "", uid: Math.random().toString(36).slice(2, 8) }),
  computed: {
    LARGEST: () => LARGEST,
    MARGIN: () => MARGIN,
    ids() { return { hatch: "hatch-" + this.uid, tip: "tip-" + this.uid }; },
    wanted() { return new Map(this.lots.map((one) => [one.lot, one])); },
    pitch() { return this.module.pitch; },
    floor() { return this.sheet.rows * this.pitch + this.sheet.origin[1]; },
    wallTop() { return this.floor - this.sheet.size[1]; },
    viewBox() {
      return [-this.sheet.origin[0] - MARGIN, this.wallTop - 8, this.sheet.size[0] + MARGIN + 8, this.sheet.size[1] + MARGIN + 8].join(" ");
    },
    gridPath() {
      let path = "";
      for (let col = 0; col <= this.sheet.cols; col++) path += `M${col * this.pitch} 0V${this.sheet.rows * this.pitch}`;
      for (let row = 0; row <= this.sheet.rows; row++) path += `M0 ${row * this.pitch}H${this.sheet.cols * this.pitch}`;
      return path;
    },
    drawn() {
      const moved = this.pending;
      return reading(this.live.items.map((one) => (moved && one.id === moved.id ? moved : one)));
    },
    shown() { return this.hand && this.hand.moved ? this.hand.at : null; },
    why() { return this.shown && !this.hand.over ? this.refused(this.shown) : ""; },
    words() {
      if (!this.shown) return this.said;
      if (this.hand.over) return `Letting go here moves ${this.shown.name} to ${this.hand.over.name}.`;
      return this.why || this.place(this.shown);
    },
    tabStop() {
      if (this.live.items.some((one) => one.id === this.picked)) return this.picked;
      return this.drawn.length ? this.drawn[0].id : "";
    },
    grip() { const one = this.drawn.find((it) => it.id === this.picked); return one && one.lot && !one.level && !this.hand ? one : null; },
  },
  created() { this.whole(); },
  watch: {
    state() { this.whole(); },
    chosen: { immediate: true, handler(id) { if (id) this.picked = id; } },
  },
  methods: {
    whole() {
      // plain copies: what comes as props is watched by the page in every part of it, and that is slow to draw from
      if (this.items) this.take(this.items.map((one) => Object.freeze({ ...one })), this.rev, this.state);
    },
    patch({ base, state, rev, mark, changed, gone }) {
      if (state <= this.live.state) return; // the whole came meanwhile
      if (base !== this.live.state) { this.$emit("lost"); return; }
      const items = patched(this.live.items, changed, gone);
      if (mark >= 0) this.picked = items[mark].id;
      this.take(items, rev, state);
    },
    take(items, rev, state) {
      const before = this.live.rev;
      this.live = Object.freeze({ items: Object.freeze(items), rev, state });
      if (rev === before) {
        if (!this.waiting) this.pending = null;
        return;
      }
      this.waiting = false;
      if (this.queue.length) this.out(this.queue.shift());
      else this.pending = null;
    },
    top(row, rows) { return (this.sheet.rows - row - rows) * this.pitch; },
    left(item) { return item.col * this.pitch + this.module.gap / 2; },
    upper(item) { return this.top(item.row, item.rows) + this.module.gap / 2; },
    wide(item) { return item.cols * this.pitch - this.module.gap; },
    deep(item) { return item.rows * this.pitch - this.module.gap; },
    mm(length) { return (Math.round(length * 10) / 10).toString(); },
    say(item) { return spoken(item, this.module); },
    looks(item) {
      // all that a tray's drawing depends on: those that look the same are not drawn anew
      const { name, kind, lot, col, row, cols, rows, height, level, stays } = item;
      const faded = this.hand !== null && this.hand.item.id === item.id;
      const state = [item.id === this.picked, item.id === this.tabStop, faded, item.found];
      return [this.sheet.id, this.sheet.rows, this.pitch, name, kind, lot, col, row, cols, rows, height, level, stays, ...state];
    },
    place(item) { return `${item.name}: ${this.mm(item.col * this.pitch + this.sheet.origin[0])} from the left wall, ${this.mm(item.row * this.pitch + this.sheet.origin[1])} from the front, ${this.mm(this.wide(item))} x ${this.mm(this.deep(item))} mm`; },
    tallwise(item) { return item.rows > 1.6 * item.cols; },
    upright(item) {
      if (!this.tallwise(item)) return null;
      return `rotate(-90 ${this.left(item) + this.wide(item) / 2} ${this.upper(item) + this.deep(item) / 2})`;
    },
    span(item) { return this.tallwise(item) ? [this.deep(item), this.wide(item)] : [this.wide(item), this.deep(item)]; },
    lines(item) {
      const [wide, deep] = this.span(item);
      const letters = Math.max(4, Math.floor((wide - 8) / 6.3));
      const found = [""];
      for (const word of item.name.split(" ")) {
        const last = found[found.length - 1];
        if (last && (last + " " + word).length > letters) found.push(word);
        else found[found.length - 1] = last ? last + " " + word : word;
      }
      const most = Math.max(1, Math.floor((deep - 8) / 12.5));
      if (found.length > most) found.splice(most, found.length, found[most - 1] + "…");
      return found.map((line) => (line.length > letters ? line.slice(0, letters - 1).replace(/…$/, "") + "…" : line));
    },
    letter(item) { return Math.min(11, this.span(item)[1] * 0.6); },
    fits(item) { return this.span(item)[0] > 24; },
    nail(item) { const [x, y] = [this.left(item) + 7, this.upper(item) + 7]; return `M${x - 3} ${y - 3}L${x + 3} ${y + 3}M${x + 3} ${y - 3}L${x - 3} ${y + 3}`; },
    refused(item) { return refusal(this.sheet, this.live.items, item, this.wanted.get(item.lot) || null, this.module); },
    pick(id) { if (this.picked !== id) { this.picked = id; this.$emit("pick", id); } },
    point(event) {
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.$refs.svg.getScreenCTM().inverse());
      return [at.x / this.pitch, this.sheet.rows - at.y / this.pitch];
    },
    onDown(event, item) {
      if (event.button !== 0) return;
      this.said = "";
      const [x, y] = this.point(event);
      this.hand = { item, at: item, dx: x - item.col, dy: y - item.row, moved: false, sizing: false, over: null };
      this.$refs.svg.setPointerCapture(event.pointerId);
    },
    onSize(event, item) {
      this.said = "";
      this.hand = { item, at: item, dx: 0, dy: 0, moved: false, sizing: true, over: null };
      this.$refs.svg.setPointerCapture(event.pointerId);
    },
    onMove(event) {
      const hand = this.hand;
      if (!hand) return;
      const [x, y] = this.point(event);
      const at = hand.sizing
        ? { ...hand.item, cols: Math.max(1, Math.round(x - hand.item.col)), rows: Math.max(1, Math.round(y - hand.item.row)) }
        : snapped(this.sheet, hand.item, x - hand.dx, y - hand.dy);
      hand.at = at;
      hand.over = hand.sizing ? null : this.spaceUnder(event);
      hand.moved = hand.moved || ["col", "row", "cols", "rows"].some((key) => at[key] !== hand.item[key]);
    },
    spaceUnder(event) {
      // a button of the page that stands for another space: parts are let go on it to go there
      const under = document.elementFromPoint(event.clientX, event.clientY);
      const found = under && under.closest("button[data-space]");
      if (!found || found.dataset.space === this.sheet.id) return null;
      return { id: found.dataset.space, name: (this.spaces || {})[found.dataset.space] || found.dataset.space };
    },
    onUp(event) {
      const hand = this.hand;
      if (!hand) return;
      this.onMove(event);
      this.hand = null;
      if (!hand.moved) return;
      if (hand.over) { this.send("to", hand.item, { other: hand.over.id }); return; }
      const under = hand.sizing ? null : this.live.items.find((one) => one.id !== hand.item.id && one.lot && !one.level && overlap(one, hand.at));
      if (under && event.altKey) this.send("swap", hand.item, { other: under.id });
      else this.settle(hand.sizing ? "resize" : "move", hand.at);
    },
    letGo() { this.hand = null; },
    settle(kind, item) {
      const why = this.refused(item);
      if (why) { this.said = why; return; }
      this.pending = item;
      this.send(kind, item, kind === "move" ? { col: item.col, row: item.row } : { cols: item.cols, rows: item.rows });
    },
    send(kind, item, more) {
      // quick hands do the next thing before the last is drawn: it waits for the plan that it is about
      const one = { kind, id: item.id, space: this.sheet.id, ...more };
      if (this.waiting) this.queue.push(one);
      else this.out(one);
    },
    out(one) {
      this.waiting = true;
      this.$emit("gesture", { ...one, rev: this.live.rev });
    },
    refuse(why) {
      this.waiting = false;
      this.queue = [];
      this.pending = null;
      this.said = why;
    },
    onKey(event) {
      const one = this.drawn.find((it) => it.id === (event.target.dataset && event.target.dataset.id));
      const key = event.key;
      if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === "z") { this.$emit(event.shiftKey ? "again" : "back"); event.preventDefault(); return; }
      if (!one) return;
      if (key === "Escape") { this.hand = null; this.refuse(""); return; }
      if (key === "t" || key === "T") { this.send("turn", one, {}); event.preventDefault(); return; }
      if (key === "s" || key === "S") { this.send("stay", one, { stays: !one.stays }); event.preventDefault(); return; }
      if (!key.startsWith("Arrow")) return;
      event.preventDefault();
      if (event.altKey || event.ctrlKey) {
        const next = neighbour(this.drawn, one, key);
        if (next) this.focus(next.id);
        return;
      }
      this.settle(event.shiftKey ? "resize" : "move", stepped(one, key, event.shiftKey));
    },
    focus(id) { const node = this.$refs.svg.querySelector(`[data-id="${CSS.escape(id)}"]`); if (node) node.focus(); },
  },
  updated() {
    if (!this.$refs.svg) return;
    const kept = document.activeElement === document.body && this.wasFocused;
    if (kept) this.focus(this.picked);
    this.wasFocused = this.$refs.svg.contains(document.activeElement);
  },
};
