// Handing over and taking in.

function fileText() {
  const answer = ask({ do: "hand over", ...files, entries: entries(), as: "file" });
  return answer.text;
}
function fileName() {
  return files.key.replace(/[^A-Za-z0-9]+/g, "-").toLowerCase() + ".jsonl";
}
function handOver(how) {
  if (!module) return;
  if (how === "paste") return takeIn($("take-text").value);
  if (how === "codes") {
    const answer = ask({ do: "hand over", ...files, entries: entries(), as: "codes" });
    $("codes").innerHTML = answer.refused ? "" : answer.html;
    if (answer.refused) say(answer.refused);
    return;
  }
  const file = new File([fileText()], fileName(), { type: "text/plain" });
  if (how === "share" && navigator.canShare && navigator.canShare({ files: [file] })) {
    navigator.share({ files: [file], title: document.title }).catch(() => {});
    return;
  }
  if (how === "share") $("taken").textContent = "This browser shares no files: the file is saved instead.";
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = fileName();
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
function takeIn(text) {
  if (!module) return;
  let answer;
  try {
    answer = ask({ do: "take in", ...files, entries: entries(), text });
  } catch (fault) {
    answer = { refused: "That could not be read. Nothing was changed." };
  }
  $("taken").textContent = answer.refused || answer.said;
  if (!answer.entries || !answer.entries.length) return;
  Promise.all(answer.entries.map(keep)).then(refresh);
}
function takeFile(field) {
  const [file] = field.files;
  field.value = "";
  if (!file) return;
  if (file.size > 4000000) {
    $("taken").textContent = "That file has " + file.size + " bytes. A file of entries has at most 4000000.";
    return;
  }
  file.text().then(takeIn, () => {
    $("taken").textContent = "That file could not be read.";
  });
}
const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, "0"));
function takePhoto(field) {
  const [file] = field.files;
  field.value = "";
  if (!file) return;
  const image = new Image();
  image.onload = () => {
    const scale = Math.min(1, 1200 / Math.max(image.width, image.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(image.width * scale);
    canvas.height = Math.round(image.height * scale);
    const pen = canvas.getContext("2d");
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
    let grey = "";
    for (let i = 0; i < data.length; i += 4) {
      grey += HEX[Math.floor((data[i] * 3 + data[i + 1] * 6 + data[i + 2]) / 10)];
    }
    URL.revokeObjectURL(image.src);
    let answer;
    try {
      answer = ask({ do: "read photo", width: canvas.width, height: canvas.height, grey });
    } catch (fault) {
      answer = { refused: "That picture could not be read. Take it again, or paste what a camera read." };
    }
    if (!answer.text) {
      $("taken").textContent = answer.refused;
      return;
    }
    // Codes come one by one: they are gathered where the pasted ones are.
    $("take-text").value = ($("take-text").value + "\n" + answer.text).trim();
    takeIn($("take-text").value);
  };
  image.onerror = () => {
    $("taken").textContent = "That is no picture this browser can open.";
  };
  image.src = URL.createObjectURL(file);
}
