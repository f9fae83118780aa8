// words.js brings the catalogue of the reader's language, for Go and for the few words
// that the page says itself. calc/lang is its other side.
import { remember } from "./host.js";

let spoken = { tag: "en", words: "" };
let texts = new Map(); // by the key of their English; filled when first asked for

/**
 * words changes the language of the page and resolves to its tag and catalogue, which
 * for English is "". The tag "" stands for the language chosen before, or the phone's.
 */
export async function words(tag) {
  const wanted = tag || guard.language;
  if (wanted !== spoken.tag) spoken = { tag: wanted, words: wanted === "en" ? "" : await fetchWords(wanted) };
  texts = new Map();
  document.documentElement.lang = wanted;
  if (tag) remember("sc-language", tag);
  guard.language = wanted;
  return spoken;
}

async function fetchWords(tag) {
  const response = await fetch(`/${tag}.txt`);
  if (!response.ok) throw new Error(`${tag}.txt: ${response.status}`);
  return response.text();
}

/** t says a text in the language of the page; each %s is the next of the others. */
export function t(text, ...others) {
  if (texts.size === 0 && spoken.words) texts = new Map(spoken.words.split("\n").map((line) => [line.slice(0, 8), line.slice(8)]));
  const said = texts.get(key(text)) ?? text;
  return others.reduce((so, other) => so.replace("%s", () => other), said);
}

// key is FNV-1a of 32 bits over UTF-8, as calc/lang has it.
function key(text) {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
