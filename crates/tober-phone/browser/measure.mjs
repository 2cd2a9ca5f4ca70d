// Measures what stands on a page as it is drawn: every text with the ground behind it, every target with its size.
// The functions below run inside the page, so each is whole in itself.

/**
 * Every visible text: its contrast with what is painted behind it (WCAG relative luminance), and its size in px as
 * drawn. Where it stands in a drawing, the shapes under three points of it are asked what they are filled with.
 */
export const texts = (page) =>
  page.evaluate(() => {
    const colour = (text) => {
      const found = /^rgba?\(([^)]+)\)$/.exec(text);
      if (!found) return null;
      const [red, green, blue, alpha = 1] = found[1].split(/[ ,/]+/).map(Number);
      return [red, green, blue, alpha];
    };
    const over = (above, below) => {
      const [a, share] = [above, above[3]];
      return [0, 1, 2].map((i) => a[i] * share + below[i] * (1 - share)).concat(1);
    };
    const light = ([red, green, blue]) => {
      const linear = (c) => ((c /= 255), c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
      return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
    };
    const contrast = (one, other) => {
      const [dark, bright] = [light(one), light(other)].sort((x, y) => x - y);
      return (bright + 0.05) / (dark + 0.05);
    };
    const canvas = () => {
      const dark = matchMedia("(prefers-color-scheme: dark)").matches;
      return /dark/.test(getComputedStyle(document.documentElement).colorScheme) && dark ? [18, 18, 18, 1] : [255, 255, 255, 1];
    };
    const drawing = (node) => node instanceof SVGElement && node.ownerSVGElement;
    // What one element paints at a point: a colour, "pattern" where it is no plain one, or nothing.
    const painted = (node, x, y) => {
      const style = getComputedStyle(node);
      if (drawing(node)) {
        if (!(node instanceof SVGGeometryElement)) return null;
        const at = new DOMPoint(x, y).matrixTransform(node.getScreenCTM().inverse());
        const part = (paint, opacity) => {
          if (paint === "none") return null;
          if (paint.startsWith("url(")) return "pattern";
          const c = colour(paint);
          return c && [...c.slice(0, 3), c[3] * Number(opacity) * Number(style.opacity)];
        };
        // A thin line that passes under a word is no ground for it.
        const wide = parseFloat(style.strokeWidth) >= 8;
        if (wide && style.stroke !== "none" && node.isPointInStroke(at)) return part(style.stroke, style.strokeOpacity);
        return node.isPointInFill(at) ? part(style.fill, style.fillOpacity) : null;
      }
      if (style.backgroundImage !== "none") return "pattern";
      const c = colour(style.backgroundColor);
      return c && c[3] > 0 ? c : null;
    };
    const ground = (element, x, y) => {
      const stack = document.elementsFromPoint(x, y);
      const from = stack.indexOf(element);
      const layers = [];
      for (const node of stack.slice(Math.max(from, 0))) {
        const paint = painted(node, x, y);
        if (paint === "pattern") return "pattern";
        if (!paint) continue;
        layers.push(paint);
        if (paint[3] >= 1) break;
      }
      return layers.reduceRight((below, above) => over(above, below), canvas());
    };
    const shown = (element) => element.checkVisibility({ opacityProperty: true, visibilityProperty: true });
    const found = [];
    const note = (element, words, paint, size, rects, inside) => {
      let alpha = 1;
      for (let node = element; node; node = node.parentElement) alpha *= Number(getComputedStyle(node).opacity);
      const c = colour(paint);
      let worst = Infinity;
      let behind = null;
      for (const box of rects) {
        if (box.width < 1 || box.height < 1) continue;
        for (const share of [0.15, 0.5, 0.85]) {
          const back = ground(element, box.left + box.width * share, box.top + box.height / 2);
          const value = back === "pattern" || !c ? 0 : contrast(over([...c.slice(0, 3), c[3] * alpha], back), back);
          if (value < worst) [worst, behind] = [value, back === "pattern" ? back : back.slice(0, 3).map(Math.round).join(" ")];
        }
      }
      if (worst === Infinity) return;
      found.push({
        words: words.replace(/\s+/g, " ").trim().slice(0, 60),
        inside,
        place: `${element.closest("section, header, nav, footer")?.id || element.closest("section, header, nav, footer")?.localName || "body"} ${element.localName}${element.getAttribute("class") ? `.${element.getAttribute("class").split(" ").join(".")}` : ""}`,
        paint,
        behind,
        contrast: Math.round(worst * 100) / 100,
        size: Math.round(size * 10) / 10,
      });
    };
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const element = node.parentElement;
      if (!node.data.trim() || !shown(element) || ["SCRIPT", "STYLE", "TITLE", "title", "desc", "OPTION"].includes(element.tagName)) continue;
      // A thing that is put away until it is focused (a skip link), or is for the ear alone.
      const clip = element.closest("*:not(svg *)").getBoundingClientRect();
      if (clip.right <= 0 || clip.bottom + scrollY <= 0 || (clip.width <= 1 && clip.height <= 1)) continue;
      const style = getComputedStyle(element);
      const range = document.createRange();
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()];
      if (drawing(element)) {
        const matrix = element.getScreenCTM();
        const scale = Math.sqrt(Math.abs(matrix.a * matrix.d - matrix.b * matrix.c));
        const halo = style.paintOrder.startsWith("stroke") && style.stroke !== "none" && parseFloat(style.strokeWidth) >= 2;
        if (halo) {
          const [c, back] = [colour(style.fill), colour(style.stroke)];
          found.push({ words: node.data.trim(), inside: "drawing", place: element.localName, paint: style.fill, behind: style.stroke,
            contrast: Math.round(contrast(c, back) * 100) / 100, size: Math.round(parseFloat(style.fontSize) * scale * 10) / 10 });
        } else note(element, node.data, style.fill, parseFloat(style.fontSize) * scale, rects, "drawing");
      } else note(element, node.data, style.color, parseFloat(style.fontSize), rects, "text");
    }
    for (const field of document.querySelectorAll("input:not([type=radio]):not([type=checkbox]):not([type=file]), textarea, select")) {
      if (!shown(field)) continue;
      const style = getComputedStyle(field);
      note(field, field.value || field.name || "a field", style.color, parseFloat(style.fontSize), [field.getBoundingClientRect()], "field");
      if (field.placeholder) note(field, field.placeholder, getComputedStyle(field, "::placeholder").color, parseFloat(style.fontSize), [field.getBoundingClientRect()], "field");
    }
    return found;
  });

/** Every visible target with its box in px; a label counts for its control, and its size is that of both together. */
export const targets = (page) =>
  page.evaluate(() => {
    const union = (one, other) => {
      const [left, top] = [Math.min(one.left, other.left), Math.min(one.top, other.top)];
      return { left, top, right: Math.max(one.right, other.right), bottom: Math.max(one.bottom, other.bottom) };
    };
    const round = (value) => Math.round(value * 10) / 10;
    const found = [];
    for (const node of document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button], [tabindex='0']")) {
      if (node.type === "hidden" || node.disabled) continue;
      const labels = [...(node.labels ?? [])].filter((label) => label.checkVisibility());
      if (!node.checkVisibility({ visibilityProperty: true }) && labels.length === 0) continue;
      if (node.scrollHeight > node.clientHeight && node.getAttribute("role") === "region") continue;
      let box = node.getBoundingClientRect();
      const choice = ["radio", "checkbox", "file"].includes(node.type);
      // Only where the label is touched as the control itself is: a label above a text field is a label.
      for (const label of labels) if (choice || label.contains(node)) box = union(box, label.getBoundingClientRect());
      if (box.right <= 0 || box.bottom + scrollY <= 0) continue;
      found.push({
        words: (node.getAttribute("aria-label") || labels[0]?.textContent || node.textContent || node.name || "").replace(/\s+/g, " ").trim().slice(0, 50),
        place: `${node.closest("section, header, nav, footer")?.id ?? ""} ${node.localName}${node.className ? `.${String(node.className).split(" ").join(".")}` : ""}`,
        kind: node.matches(".go") ? "main" : node.matches(".halt, .stop") ? "stop" : "other",
        width: round(box.right - box.left),
        height: round(box.bottom - box.top),
        box: [box.left, box.top, box.right, box.bottom].map(round),
      });
    }
    return found;
  });

/** How many px the page is wider than its window, and what sticks out. */
export const sideways = (page) =>
  page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    const over = Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) - wide;
    const sticking = over <= 0 ? [] : [...document.body.querySelectorAll("*")]
      .filter((node) => node.checkVisibility() && node.getBoundingClientRect().right > wide + 0.5)
      .map((node) => `${node.localName}.${node.getAttribute("class") ?? ""} ${Math.round(node.getBoundingClientRect().right)}`);
    return { over, sticking: sticking.slice(0, 6) };
  });

/** Makes the window as tall as the page, so that all of it is drawn and can be asked about. */
export async function whole(page) {
  const { width } = page.viewportSize();
  await page.evaluate(() => scrollTo(0, 0));
  const height = await page.evaluate(() => Math.ceil(document.documentElement.getBoundingClientRect().height) + 20);
  await page.setViewportSize({ width, height: Math.min(Math.max(height, 400), 100_000) });
}
