// What the visitor has chosen. The address of the page remembers it behind the #;
// on the page of a ground, where the # leads to a place on the page, that place
// follows as `at`.

const MEASURES = ["pairs", "pins", "moves", "works", "clear"];
// What can be chosen from lists.
const CHOICES = () => ({
  family: all.varieties.map((v) => v.family), kind: ["ground", "filling"], goes: Object.keys(GOES_WORDS),
  pattern: all.patterns.map((pattern) => pattern.id), sort: Object.keys(SORT_KEYS),
});
const givenColours = () => all.colours.map((c) => c.rgb);
// `class`: each ground of the class hangs in its own arrangement. `unread`: what
// the address asks for and cannot have, in sentences.
const state = { arrangement: [], colours: givenColours(), class: false, unread: [], at: "" };

// The part of an address that the page is to take for its choices.
const asked = () => new URLSearchParams(location.hash.includes("=") ? location.hash.slice(1) : "");

function readHanging(get) {
  const wanted = get("arrangement") || get("order"); // addresses used to say `order`
  const { threads, fault } = wanted ? readArrangement(wanted) : {};
  state.arrangement = threads || readArrangement(all.arrangement).threads;
  if (fault) state.unread.push("The arrangement “" + wanted + "” " + fault + "; " + writeArrangement(state.arrangement, " ") + " is shown instead.");
  state.colours = givenColours();
  const dyes = get("colours") ? get("colours").split("-") : [];
  dyes.forEach((hex, k) => {
    if (hex === "") return;
    if (/^[0-9a-f]{6}$/i.test(hex) && k < state.colours.length) state.colours[k] = "#" + hex.toLowerCase();
    else state.unread.push("“" + hex + "” is no colour for the letter " + letter(k) + ": a colour is six digits 0 to 9 or a to f.");
  });
  state.class = get("class") === "1" && all.class !== null;
}

function readAddress() {
  const parameters = asked();
  const get = (name) => parameters.get(name) || "";
  state.unread = [];
  readHanging(get);
  state.seen = parameters.has("seen") ? get("seen") : all.seen_by;
  if (!all.sights.some((s) => s.id === state.seen)) {
    if (state.seen) state.unread.push("“" + state.seen + "” is no way to see colours.");
    state.seen = "";
  }
  const mm = parameters.has("window") ? Number(get("window")) : all.window || 0;
  state.window = mm === 0 || all.windows.includes(mm) ? mm : 0;
  if (state.window !== mm) state.unread.push("There are no pictures of “" + get("window") + "” mm of lace, only of " + all.windows.map(decimal).join(", ") + " mm.");
  state.threads = get("threads") === "1";
  state.search = get("search");
  for (const [name, known] of Object.entries(CHOICES())) {
    state[name] = known.includes(get(name)) ? get(name) : "";
    if (get(name) && !state[name]) state.unread.push("Nothing is known as “" + get(name) + "” (" + name + ").");
  }
  for (const name of MEASURES) {
    state[name] = /^[\d.]*-[\d.]*$/.test(get(name)) ? get(name) : "";
    if (get(name) && !state[name]) state.unread.push("“" + get(name) + "” is no range of " + name + ": write 2-4, 2- or -4.");
  }
  state.down = get("down") === "1";
  const picked = get("pick") ? get("pick").split(",") : [];
  const strange = picked.filter((name) => !byName.has(name));
  if (strange.length) state.unread.push("Not in this gallery: " + strange.join(", ") + ".");
  state.pick = picked.filter((name, k) => byName.has(name) && picked.indexOf(name) === k).slice(0, MOST_COMPARED);
  state.view = ["pairs", "pricking"].includes(get("view")) ? get("view") : "threads";
  state.follow = Math.min(Math.max(parseInt(get("follow"), 10) || 0, 0), MOST_FOLLOWED);
  state.zoom = Math.min(Math.max(parseFloat(get("zoom")) || 1, 1), 4);
  state.lock = get("lock") !== "0";
  state.differ = get("differ") === "1";
}

// The choices as they stand in an address, without the #. Usual values are left
// out; characters allowed in an address are not escaped.
function writeAddress() {
  const parameters = [];
  const add = (name, value, usual) => {
    if (value !== usual && value !== "") parameters.push(name + "=" + encodeURIComponent(value).replace(/%2F/g, "/").replace(/%2C/g, ",").replace(/%20/g, "+"));
  };
  const inAddress = (colours) => colours.map((c) => c.slice(1)).join("-");
  add("class", state.class ? "1" : "", "");
  add("arrangement", writeArrangement(state.arrangement, ""), all.arrangement.replace(/ /g, ""));
  add("colours", inAddress(state.colours), inAddress(givenColours()));
  if (state.seen !== all.seen_by) parameters.push("seen=" + encodeURIComponent(state.seen));
  if (state.window !== (all.window || 0)) parameters.push("window=" + state.window);
  add("threads", state.threads ? "1" : "", "");
  for (const name of ["search", "family", "kind", "goes", "pattern", ...MEASURES, "sort"]) add(name, state[name], "");
  add("down", state.down ? "1" : "", "");
  add("pick", state.pick.join(","), "");
  add("view", state.view, "threads");
  add("follow", state.follow ? String(state.follow) : "", "");
  add("zoom", state.zoom === 1 ? "" : String(state.zoom), "");
  add("lock", state.lock ? "" : "0", "");
  add("differ", state.differ ? "1" : "", "");
  return parameters.join("&");
}

// The address of another page that keeps what is chosen here. `more` comes last
// and takes the place of what it names.
function keeping(page, more) {
  const named = (more || "").split("&").map((one) => one.split("=")[0]);
  const kept = writeAddress().split("&").filter((one) => one && !named.includes(one.split("=")[0]));
  const choices = kept.concat(more ? [more] : []).join("&");
  return root + page + (choices ? "#" + choices : "");
}

// The address of a variety on the page of its ground, with what is chosen here;
// what is usual is left out, so that the plain place remains.
function keepingAt(page) {
  const [file, at] = page.split("#");
  const chosen = writeAddress().split("&").filter((one) => /^(class|arrangement|colours|seen|threads)=/.test(one));
  return root + file + "#" + (chosen.length ? chosen.concat("at=" + at).join("&") : at);
}

let written = null;
function keepInAddress() {
  const chosen = writeAddress();
  written = "#" + (state.at ? (chosen ? chosen + "&at=" : "") : chosen) + state.at;
  try {
    history.replaceState(null, "", written);
  } catch (refused) {
    location.replace(written);
  }
  keepInLinks();
}

function keepInLinks() {
  for (const link of document.querySelectorAll("a[data-keeps]")) link.href = keeping(link.dataset.keeps, link.dataset.more);
  for (const link of document.querySelectorAll("a[data-keeps-at]")) link.href = keepingAt(link.dataset.keepsAt);
}

// Tells what of the address could not be read.
function showUnread() {
  const note = byId("unread");
  note.hidden = state.unread.length === 0;
  note.replaceChildren(...state.unread.map((text) => make("p", { text })));
}

// Applies the address, now and whenever it is edited by hand.
function followAddress(show) {
  addEventListener("hashchange", () => { if (location.hash !== written) show(); });
  show();
}
