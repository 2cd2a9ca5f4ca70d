// What all parts of the script share. It carries what is typed to the core, keeps the entries that come back, and shows
// the rest: nothing is computed here.

const $ = (id) => document.getElementById(id);
const all = (selector) => [...document.querySelectorAll(selector)];
const { visits, begin: beginWith } = JSON.parse($("files").textContent);
const several = Boolean($("pitches"));
const bookPlace = "tober/book/" + document.title + "/";
// The visit that is open, and where in the store its entries are.
let files = null;
let place = "";
