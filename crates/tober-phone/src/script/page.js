// What all parts of the script share. It carries what is typed to the core, keeps the entries that come back, and shows
// the rest: nothing is computed here.

const $ = (id) => document.getElementById(id);
const all = (selector) => [...document.querySelectorAll(selector)];
// What the page carries, once it is unpacked: the texts of each visit, and those that a pitch is begun with.
let [visits, beginWith] = [[], null];
const several = Boolean($("pitches"));
const bookPlace = "tober/book/" + document.title + "/";
// The visit that is open, and where in the store its entries are.
let files = null;
let place = "";
