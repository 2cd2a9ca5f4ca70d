// Rehearsing: a step, a question or an answer is made by the core when somebody goes there.

function rehearse(at, into) {
  let answer;
  try {
    answer = ask({ do: "rehearse", ...files, entries: entries(), now: now(), at });
  } catch (fault) {
    answer = { refused: broken };
  }
  into.innerHTML = answer.html || "";
  if (!answer.refused) return;
  const said = document.createElement("p");
  said.textContent = answer.refused;
  into.append(said);
}
// The sheet of a place in the rehearsal, filled; nothing where it is no such place, or the core is not ready.
function lesson(at) {
  if (!/^(lesson$|step-|quiz)/.test(at) || !module || !files || !$("lesson")) return null;
  rehearse(at, $("lesson"));
  return $("lesson");
}
document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-if]");
  if (button) rehearse("if-" + $("if").value + button.dataset.if, $("if-said"));
});
