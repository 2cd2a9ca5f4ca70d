// Beginning.

async function begin() {
  document.body.classList.add("scripted");
  turn(false);
  name();
  database = await openDatabase();
  await tryStore();
  try {
    await compiled();
    offer();
    const open = get(bookPlace + "open");
    const last = several ? [...visits, ...begun()].find((visit) => visit.key === open) : visits[0];
    if (last) await use(last);
    else $("kept").textContent = refused ? "Not kept: use paper" : "Choose a pitch";
    turn(false);
  } catch (fault) {
    refuse(broken);
    return;
  }
  document.body.dataset.ready = "yes";
}
begin();
