// "Where is it?": shows the rows that hold what is typed. Without a script the whole table stands there.
(() => {
  const field = document.getElementById("filter");
  const found = document.getElementById("found");
  const rows = [...document.querySelectorAll("#where-table tbody tr")];
  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const texts = rows.map((row) => plain(row.textContent));
  const show = () => {
    const words = plain(field.value).split(/\s+/).filter(Boolean);
    let count = 0;
    rows.forEach((row, at) => {
      row.hidden = !words.every((word) => texts[at].includes(word));
      count += row.hidden ? 0 : 1;
    });
    found.textContent = words.length ? `${count} of ${rows.length} shown` : "";
  };
  field.addEventListener("input", show);
  field.closest("p").hidden = false;
  show();
})();
