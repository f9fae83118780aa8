// how.js gives the page of formulas the theme of the app.
import { recall } from "./host.js";

const name = recall("sc-theme");
if (name) document.documentElement.dataset.theme = name;
