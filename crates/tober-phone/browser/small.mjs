// A picture of a page as a PNG of at most 256 colours: a third of the bytes, and nobody sees a difference.
//
// PNG as in its specification (ISO/IEC 15948): chunks with a checksum, rows with a filter each, packed by zlib.
import { deflateSync, inflateSync } from "node:zlib";

const table = Array.from({ length: 256 }, (_, n) => {
  for (let k = 0; k < 8; k += 1) n = n & 1 ? 0xedb88320 ^ (n >>> 1) : n >>> 1;
  return n >>> 0;
});
const crc = (bytes) => (bytes.reduce((sum, byte) => table[(sum ^ byte) & 255] ^ (sum >>> 8), 0xffffffff) ^ 0xffffffff) >>> 0;

/** The pixels of a PNG as a browser writes it: eight bits a channel, three or four channels, not interlaced. */
function pixels(png) {
  let at = 8;
  let head;
  const packed = [];
  while (at < png.length) {
    const size = png.readUInt32BE(at);
    const kind = png.toString("ascii", at + 4, at + 8);
    const body = png.subarray(at + 8, at + 8 + size);
    if (kind === "IHDR") head = { width: body.readUInt32BE(0), height: body.readUInt32BE(4), channels: { 2: 3, 6: 4 }[body[9]] };
    if (kind === "IDAT") packed.push(body);
    at += 12 + size;
  }
  const { width, height, channels } = head;
  const rows = inflateSync(Buffer.concat(packed));
  const line = width * channels;
  const out = Buffer.alloc(line * height);
  for (let y = 0; y < height; y += 1) {
    const filter = rows[y * (line + 1)];
    for (let x = 0; x < line; x += 1) {
      const left = x >= channels ? out[y * line + x - channels] : 0;
      const up = y > 0 ? out[(y - 1) * line + x] : 0;
      const corner = x >= channels && y > 0 ? out[(y - 1) * line + x - channels] : 0;
      const [a, b, c] = [Math.abs(up - corner), Math.abs(left - corner), Math.abs(left + up - 2 * corner)];
      const guess = [0, left, up, (left + up) >> 1, a <= b && a <= c ? left : b <= c ? up : corner][filter];
      out[y * line + x] = rows[y * (line + 1) + 1 + x] + guess;
    }
  }
  return { width, height, channels, out };
}

const chunk = (kind, body) => {
  const whole = Buffer.concat([Buffer.alloc(4), Buffer.from(kind, "ascii"), body, Buffer.alloc(4)]);
  whole.writeUInt32BE(body.length, 0);
  whole.writeUInt32BE(crc(whole.subarray(4, whole.length - 4)), whole.length - 4);
  return whole;
};

/** The same picture with at most 256 colours. */
export function small(png) {
  const { width, height, channels, out } = pixels(png);
  const count = width * height;
  const uses = new Map();
  const keys = new Uint32Array(count);
  for (let i = 0; i < count; i += 1) {
    keys[i] = (out[i * channels] << 16) | (out[i * channels + 1] << 8) | out[i * channels + 2];
    uses.set(keys[i], (uses.get(keys[i]) ?? 0) + 1);
  }
  // The colours most used are kept as they are; each of the others becomes the nearest of those. 64 hold the edges of
  // letters well, and pack better than 256.
  const colours = [...uses].sort((a, b) => b[1] - a[1] || a[0] - b[0]).slice(0, 64).map(([key]) => key);
  const split = (key) => [key >> 16, (key >> 8) & 255, key & 255];
  const nearest = new Map();
  for (const key of uses.keys()) {
    const [r, g, b] = split(key);
    let best = Infinity;
    colours.forEach((other, place) => {
      const [x, y, z] = split(other);
      const far = (r - x) ** 2 + (g - y) ** 2 + (b - z) ** 2;
      if (far < best) [best] = [far, nearest.set(key, place)];
    });
  }
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1) for (let x = 0; x < width; x += 1) rows[y * (width + 1) + 1 + x] = nearest.get(keys[y * width + x]);
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 3, 0, 0, 0], 8);
  const palette = Buffer.from(colours.flatMap(split));
  return Buffer.concat([png.subarray(0, 8), chunk("IHDR", head), chunk("PLTE", palette), chunk("IDAT", deflateSync(rows, { level: 9 })), chunk("IEND", Buffer.alloc(0))]);
}
