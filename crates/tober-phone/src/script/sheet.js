// One sheet at a time.

const sections = () => all("main section.sheet");
function turn(focus) {
  const wanted = decodeURIComponent(location.hash.slice(1));
  const there = sections();
  const target = lesson(wanted) || (wanted && $(wanted));
  let section = target && (target.closest("section.sheet") || (target.matches("nav") ? "list" : null));
  if (section === "list") {
    target.scrollIntoView();
    $("h-sheets").focus({ preventScroll: true });
    return;
  }
  // The way past the head line leads to the sheet that is seen.
  if (!section) section = there.find((other) => target === $("main") && other.classList.contains("here")) || there[0];
  for (const other of there) other.classList.toggle("here", other === section);
  for (const link of all("nav a")) {
    if (link.getAttribute("href") === "#" + (section.id === "lesson" ? "rehearse" : section.id)) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  // The browser has gone to the step in the list by itself.
  if (focus || section.id === "lesson") window.scrollTo(0, 0);
  if (focus) {
    const title = section.querySelector("h2");
    if (title) title.focus({ preventScroll: true });
  }
}
window.addEventListener("hashchange", () => turn(true));

// Another tab of this visit has entered something.
window.addEventListener("storage", (event) => {
  if (!files || (event.key && !event.key.startsWith(place + "entry/"))) return;
  gather();
  if (module) refresh();
});
setInterval(() => {
  if (module && files && document.querySelector("[data-waits]")) refresh();
}, 20000);
