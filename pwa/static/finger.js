// finger.js keeps the page still under a finger. What the app paints by itself
// between touching and letting go could slide another button under the finger,
// and the press would go there, or nowhere.

const longest = 1000; // ms; a finger that rests for longer presses nothing

let down = 0; // the timer of a finger that is on the page
let held = null; // the newest paint that waits for it

/** still makes paint wait for the finger. What a press itself paints never waits:
 * the second tap of a double tap must find the new screen. */
export function still(paint) {
  const show = () => {
    const regions = held;
    held = null;
    if (regions) paint(regions);
  };
  const lift = () => {
    clearTimeout(down);
    down = 0;
    show();
  };
  addEventListener("pointerdown", () => { clearTimeout(down); down = setTimeout(lift, longest); }, true);
  addEventListener("pointercancel", lift, true); // it scrolls
  addEventListener("click", () => setTimeout(lift), true); // after the press is heard
  return (regions) => {
    held = regions;
    if (!down || "busy" in document.documentElement.dataset) show();
  };
}
