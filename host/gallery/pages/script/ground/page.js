// The page of a ground: its pictures in colours of the visitor's own.

// A variety on the page, with its picture from the file and one to paint.
function makeShown(place) {
  const variety = byName.get(place.dataset.variety);
  const [file, shows] = [place.querySelector("img"), place.querySelector(".shows")];
  const picture = makePicture(all.large_px);
  picture.canvas.hidden = true;
  file.before(picture.canvas);
  return { variety, file, shows, picture };
}

// Whether the pictures in the files are the ones asked for.
function isAsMade() {
  const same = (a, b) => a.join() === b.join();
  return !state.class && state.seen === all.seen_by && same(state.colours, givenColours()) && same(state.arrangement, readArrangement(all.arrangement).threads);
}

function paintShown(shown, asMade) {
  const { variety, file, shows, picture } = shown;
  const threads = arrangementOf(variety);
  const painted = !asMade && picture.paint(paints(threads, 0));
  picture.canvas.hidden = !painted;
  file.hidden = painted;
  picture.canvas.setAttribute("aria-label", variety.title + ", " + hungInWords(threads) + ". " + variety.travel);
  const more = largeInWords(variety, threads);
  shows.textContent = decimal(variety.large_mm) + " by " + decimal(variety.large_mm) + " mm, hung " + writeArrangement(threads, " ") + (more ? "; " + more : "");
}

function groundPage() {
  const all_shown = [...document.querySelectorAll("[data-variety]")].map(makeShown);
  function repaint() {
    const asMade = isAsMade();
    for (const shown of all_shown) {
      paintShown(shown, asMade);
      if (asMade || shown.picture.stencil) continue;
      load(shown.variety.name).then(({ stencil }) => {
        shown.picture.stencil = stencil;
        paintShown(shown, isAsMade());
      }, () => { shown.shows.textContent = "The picture to recolour is not in the folder of this gallery."; });
    }
  }
  const hanging = hangColours(repaint);
  followShortcuts(hanging.undo);
  let begun = false;
  followAddress(() => {
    const choices = location.hash.includes("=");
    // A link to another place on the page leaves the colours as they are.
    if (choices || !begun) {
      readAddress();
      showUnread();
      hanging.begin();
      repaint();
    }
    state.at = choices ? asked().get("at") || "" : location.hash.slice(1);
    const place = choices && byId(state.at);
    if (place) place.scrollIntoView();
    begun = true;
    keepInAddress();
  });
}
