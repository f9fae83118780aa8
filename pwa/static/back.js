// back.js lets the browser's Back lead to the place before. Go says where the person
// is each time it keeps its view; the browser's own list of places holds what it said.
import { flush } from "./input.js";

const place = (view) => {
  const { invite, ...rest } = JSON.parse(view || '{"place":"home"}'); // no list of places holds a secret
  return JSON.stringify(rest);
};

let returning = 0; // acts of Back that have not settled: what they lead to is listed already

/** went adds a place to the list. */
export function went(name, view) {
  if (name !== "view" || returning || place(view) === history.state) return;
  history.pushState(place(view), "");
}

/** followBack begins with the place where the app opened. */
export function followBack(view, act) {
  history.replaceState(place(view), "");
  addEventListener("popstate", (event) => {
    if (!event.state) return; // a link within the page
    flush(); // what is half typed is kept
    returning++;
    act("back", { to: event.state }).finally(() => { returning--; });
  });
}
