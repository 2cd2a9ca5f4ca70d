// LZMA, as its author's specification has it (I. Pavlov, 2015, from memory): single bits, each by how often it was set
// before in the same place, make letters or say how far back the same stretch stands. The head of thirteen bytes says how
// places are told apart, and how many bytes there are.
function unlzma(packed) {
  const view = new DataView(packed.buffer, packed.byteOffset);
  const [lc, lp, pb] = [packed[0] % 9, Math.floor(packed[0] / 9) % 5, Math.floor(packed[0] / 45)];
  const out = new Uint8Array(view.getUint32(5, true));
  // Where the odds of each kind of bit begin.
  const [MATCH, REP, G0, G1, G2, LONG, SLOT, SPEC, ALIGN, LENGTH, AGAIN, LETTER] =
    [0, 192, 204, 216, 228, 240, 432, 688, 803, 819, 1333, 1847];
  const odds = new Uint16Array(LETTER + (768 << (lc + lp))).fill(1024);
  let [at, range, code] = [18, 0xffffffff, view.getUint32(14)];
  const refill = () => {
    if (range < 0x1000000) {
      range = (range << 8) >>> 0;
      code = ((code << 8) | packed[at++]) >>> 0;
    }
  };
  const bit = (place) => {
    const odd = odds[place];
    const bound = (range >>> 11) * odd;
    const set = code >= bound;
    if (set) {
      range -= bound;
      code -= bound;
      odds[place] = odd - (odd >> 5);
    } else {
      range = bound;
      odds[place] = odd + ((2048 - odd) >> 5);
    }
    refill();
    return set ? 1 : 0;
  };
  const plain = (count) => {
    let number = 0;
    for (; count > 0; count--) {
      range >>>= 1;
      const set = code >= range;
      if (set) code -= range;
      number = number * 2 + (set ? 1 : 0);
      refill();
    }
    return number;
  };
  const tree = (place, bits) => {
    let node = 1;
    for (let i = 0; i < bits; i++) node = node * 2 + bit(place + node);
    return node - (1 << bits);
  };
  const lowFirst = (place, bits) => {
    let [node, number] = [1, 0];
    for (let i = 0; i < bits; i++) {
      const one = bit(place + node);
      node = node * 2 + one;
      number |= one << i;
    }
    return number;
  };
  const length = (place, here) => {
    if (!bit(place)) return 2 + tree(place + 2 + here * 8, 3);
    if (!bit(place + 1)) return 10 + tree(place + 130 + here * 8, 3);
    return 18 + tree(place + 258, 8);
  };
  let [n, state, d0, d1, d2, d3] = [0, 0, 0, 0, 0, 0];
  while (n < out.length) {
    const here = n & ((1 << pb) - 1);
    if (!bit(MATCH + state * 16 + here)) {
      const last = n > 0 ? out[n - 1] : 0;
      const place = LETTER + 768 * (((n & ((1 << lp) - 1)) << lc) + (last >> (8 - lc)));
      let letter = 1;
      // After a repetition: what would have gone on with it is no longer to be expected.
      for (let old = state < 7 ? -1 : out[n - d0 - 1]; old >= 0 && letter < 256; ) {
        const bitOfOld = (old >> 7) & 1;
        old = (old << 1) & 255;
        const one = bit(place + 256 + bitOfOld * 256 + letter);
        letter = letter * 2 + one;
        if (one !== bitOfOld) old = -1;
      }
      while (letter < 256) letter = letter * 2 + bit(place + letter);
      out[n++] = letter;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let long = 1;
    if (!bit(REP + state)) {
      [d3, d2, d1] = [d2, d1, d0];
      long = length(LENGTH, here);
      state = state < 7 ? 7 : 10;
      const slot = tree(SLOT + Math.min(long - 2, 3) * 64, 6);
      const bits = (slot >> 1) - 1;
      d0 = slot;
      if (slot > 3) d0 = (2 + (slot & 1)) * 2 ** bits;
      if (slot > 3 && slot < 14) d0 += lowFirst(SPEC + d0 - slot, bits);
      else if (slot > 3) d0 += plain(bits - 4) * 16 + lowFirst(ALIGN, 4);
    } else if (bit(G0 + state)) {
      let distance = d1;
      if (bit(G1 + state)) {
        distance = d2;
        if (bit(G2 + state)) [distance, d3] = [d3, d2];
        d2 = d1;
      }
      [d1, d0] = [d0, distance];
      long = length(AGAIN, here);
      state = state < 7 ? 8 : 11;
    } else if (bit(LONG + state * 16 + here)) {
      long = length(AGAIN, here);
      state = state < 7 ? 8 : 11;
    } else {
      state = state < 7 ? 9 : 11;
    }
    for (; long > 0 && n < out.length; long--, n++) out[n] = out[n - d0 - 1];
  }
  return out;
}
