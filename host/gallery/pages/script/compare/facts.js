// Below the windows of compare.html: the facts side by side, and the recipe of a
// class with these grounds.

// A row for each fact; those that differ are marked with a word.
function showFacts(sides) {
  const names = sides.length ? sides[0].variety.facts.map(([name]) => name) : [];
  const heads = ["Fact", "Alike?", ...sides.map((side) => side.variety.title)];
  const rows = names.map((name, k) => {
    const values = sides.map((side) => side.variety.facts[k][1]);
    const differs = values.some((value) => value !== values[0]);
    const mark = sides.length < 2 ? "" : differs ? "≠ differs" : "= alike";
    return make("tr", { "data-differs": String(differs), hidden: state.differ && !differs },
      make("th", { scope: "row", text: name }), make("td", { class: "mark", text: mark }), ...values.map((text) => make("td", { text: text || "–" })));
  });
  byId("facts").replaceChildren(
    make("thead", {}, make("tr", {}, ...heads.map((text) => make("th", { scope: "col", text })))), make("tbody", {}, ...rows));
}

// The recipe of a handout. What the class of this gallery says of its grounds is
// kept: title and notes, areas, pin spacing and thread. Strings are written as in
// JSON, which TOML reads.
function writeRecipe(sides) {
  const text = JSON.stringify;
  const line = (key, value) => value == null || value === "" ? "" : key + " = " + (typeof value === "string" ? text(value) : value) + "\n";
  const given = all.class || { title: "My class", class: "", notes: "", paper: "A4", pin_spacing_mm: all.usual_pin_spacings ? null : all.pin_spacing_mm, thread: null, grounds: [] };
  const hung = sides.map((side) => writeArrangement(arrangementOf(side.variety), " "));
  const usual = hung.every((one) => one === hung[0]) && hung.length ? hung[0] : writeArrangement(state.arrangement, " ");
  const letters = Math.max(...state.arrangement, ...sides.flatMap((side) => arrangementOf(side.variety)));
  const colours = state.colours.slice(0, letters + 1).map((rgb, c) => "  { name = " + text(colourName(c)) + ", rgb = " + text(rgb) + " },\n");
  const grounds = sides.map((side, k) => {
    const own = given.grounds.find((ground) => ground.name === side.variety.name) || { area: "40x60", notes: "" };
    return "\n[[ground]]\n" + line("name", side.variety.name) + line("arrangement", hung[k] === usual ? "" : hung[k]) + line("pin-spacing", own.pin_spacing_mm) + line("area", own.area) + "notes = " + text(own.notes) + "\n";
  });
  return line("format", "pairwise-recipe/1") + line("title", given.title) + line("class", given.class) + line("notes", given.notes) + line("paper", given.paper) +
    line("pin-spacing", given.pin_spacing_mm) + line("thread", given.thread) + "colours = [\n" + colours.join("") + "]\n" + line("arrangement", usual) + grounds.join("");
}

function saveRecipe() {
  const file = URL.createObjectURL(new Blob([byId("recipe").textContent], { type: "text/plain" }));
  make("a", { href: file, download: "my-class.toml" }).click();
  setTimeout(() => URL.revokeObjectURL(file), 60000);
}
