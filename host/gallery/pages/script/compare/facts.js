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

// Strings are written as in JSON, which TOML reads.
function writeRecipe(sides) {
  const text = JSON.stringify;
  const colours = state.colours.slice(0, Math.max(...state.arrangement) + 1).map((rgb, c) => "  { name = " + text(colourName(c)) + ", rgb = " + text(rgb) + " },\n");
  const grounds = sides.map((side) => "\n[[ground]]\nname = " + text(side.variety.name) + "\narea = \"40x60\"\nnotes = \"\"\n");
  return "format = \"pairwise-recipe/1\"\ntitle = \"My class\"\npaper = \"A4\"\n" + (all.usual_pin_spacings ? "" : "pin-spacing = " + all.pin_spacing_mm + "\n") +
    "colours = [\n" + colours.join("") + "]\narrangement = " + text(writeArrangement(state.arrangement, " ")) + "\n" + grounds.join("");
}

function saveRecipe() {
  const file = URL.createObjectURL(new Blob([byId("recipe").textContent], { type: "text/plain" }));
  make("a", { href: file, download: "my-class.toml" }).click();
  setTimeout(() => URL.revokeObjectURL(file), 60000);
}
