// A list of which one is taken: one element of the page however many rows it has. Events: taken. Method: reset.
export default {
  template: `
  <select ref="list" class="plain" :value="chosen" @change="$emit('taken', $event.target.value)">
    <option v-for="[key, words] in rows" :key="key" v-memo="[key, words]" :value="key">{{ words }}</option>
  </select>`,
  props: { rows: Array, chosen: String },
  emits: ["taken"],
  methods: {
    reset() { this.$refs.list.value = this.chosen; },
  },
};
