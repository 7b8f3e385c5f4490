// What the visitor has chosen. The address of the page remembers it.

const MEASURES = ["pairs", "pins", "moves", "works", "clear"];
const givenColours = () => all.colours.map((c) => c.rgb);
const state = { arrangement: [], colours: givenColours() };

function readAddress() {
  const parameters = new URLSearchParams(location.hash.slice(1));
  const get = (name) => parameters.get(name) || "";
  // Addresses used to say `order`.
  state.arrangement = readArrangement(get("arrangement") || get("order")) || readArrangement(all.order) || [0, 0];
  state.colours = givenColours();
  get("colours").split("-").forEach((hex, k) => {
    if (/^[0-9a-f]{6}$/i.test(hex) && k < state.colours.length) state.colours[k] = "#" + hex.toLowerCase();
  });
  state.seen = parameters.has("seen") ? get("seen") : all.seen_by;
  if (!all.sights.some((s) => s.id === state.seen)) state.seen = "";
  state.threads = get("threads") === "1";
  state.search = get("search");
  for (const name of ["family", "kind", "goes", "pattern", "sort"]) state[name] = get(name);
  for (const name of MEASURES) state[name] = /^[\d.]*-[\d.]*$/.test(get(name)) ? get(name) : "";
  state.down = get("down") === "1";
  state.pick = get("pick").split(",").filter((name, k, list) => byName.has(name) && list.indexOf(name) === k).slice(0, MOST_COMPARED);
  state.view = ["pairs", "pricking"].includes(get("view")) ? get("view") : "threads";
  state.follow = Math.min(Math.max(parseInt(get("follow"), 10) || 0, 0), MOST_FOLLOWED);
  state.zoom = Math.min(Math.max(parseFloat(get("zoom")) || 1, 1), 4);
  state.lock = get("lock") !== "0";
  state.differ = get("differ") === "1";
}

function writeAddress() {
  const parameters = [];
  // Default values are left out; characters allowed in an address are not escaped.
  const add = (name, value, usual) => {
    if (value !== usual && value !== "") parameters.push(name + "=" + encodeURIComponent(value).replace(/%2F/g, "/").replace(/%2C/g, ",").replace(/%20/g, "+"));
  };
  const inAddress = (colours) => colours.map((c) => c.slice(1)).join("-");
  add("arrangement", writeArrangement(state.arrangement, ""), all.order.replace(/ /g, ""));
  add("colours", inAddress(state.colours), inAddress(givenColours()));
  if (state.seen !== all.seen_by) parameters.push("seen=" + encodeURIComponent(state.seen));
  add("threads", state.threads ? "1" : "", "");
  for (const name of ["search", "family", "kind", "goes", "pattern", ...MEASURES, "sort"]) add(name, state[name], "");
  add("down", state.down ? "1" : "", "");
  add("pick", state.pick.join(","), "");
  add("view", state.view, "threads");
  add("follow", state.follow ? String(state.follow) : "", "");
  add("zoom", state.zoom === 1 ? "" : String(state.zoom), "");
  add("lock", state.lock ? "" : "0", "");
  add("differ", state.differ ? "1" : "", "");
  return "#" + parameters.join("&");
}

let written = null;
function keepInAddress() {
  written = writeAddress();
  try {
    history.replaceState(null, "", written);
  } catch (refused) {
    location.replace(written);
  }
  for (const link of document.querySelectorAll("a[data-keeps]")) link.href = link.dataset.keeps + written;
}

// Applies the address, now and whenever it is edited by hand.
function followAddress(show) {
  addEventListener("hashchange", () => { if (location.hash !== written) show(); });
  show();
}
