// What all parts of the script share. It carries what is typed to the core, keeps the entries that come back, and shows
// the rest: nothing is computed here.

const $ = (id) => document.getElementById(id);
const all = (selector) => [...document.querySelectorAll(selector)];
// Each text of the files stands once, and is named by its place.
const carried = JSON.parse($("files").textContent);
const texts = (of) => of && Object.fromEntries(
  Object.entries(of).map(([key, at]) => [key, typeof at === "number" ? carried.texts[at] : at]),
);
const [visits, beginWith] = [carried.visits.map(texts), texts(carried.begin)];
const several = Boolean($("pitches"));
const bookPlace = "tober/book/" + document.title + "/";
// The visit that is open, and where in the store its entries are.
let files = null;
let place = "";
