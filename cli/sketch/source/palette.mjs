// Colours of readings as the report has them (lib/linkmargin/report/drawing/palette): the lighter, the stronger, with a step where a reading
// becomes weak.

/** CIE L*a*b* of the ends of both halves. */
const WEAKEST = [28, 22, -44], LAST_WEAK = [52, 2, -38], FIRST_STRONG = [70, -14, -4], STRONGEST = [93, 0, 32];
const WHITE = [0.95047, 1, 1.08883];
const KNEE = 6 / 29;
const NARROWEST = 0.02;

const linear = (t) => (t > KNEE ? t ** 3 : 3 * KNEE ** 2 * (t - 4 / 29));
const encoded = (value) => (value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055);

function rgbOf([lightness, a, b]) {
  const fy = (lightness + 16) / 116;
  const [x, y, z] = [fy + a / 500, fy, fy - b / 200].map((t, i) => WHITE[i] * linear(t));
  return [3.2404542 * x - 1.5371385 * y - 0.4985314 * z, -0.969266 * x + 1.8760108 * y + 0.041556 * z, 0.0556434 * x - 0.2040259 * y + 1.0572252 * z]
      .map((value) => Math.round(255 * Math.min(1, Math.max(0, encoded(value)))));
}

/** Where colours change, from 0 to 1: each tenth, and the threshold. */
export function steps(threshold) {
  const breaks = threshold >= NARROWEST && threshold <= 1 - NARROWEST;
  const tenths = Array.from({length: 9}, (_, i) => (i + 1) / 10).filter((tenth) => !breaks || Math.abs(tenth - threshold) >= NARROWEST);
  return [0, ...tenths, ...(breaks ? [threshold] : [])].sort((one, other) => one - other);
}

/** The colours of all steps: [{from, isWeak, rgb}]. */
export function colours(threshold) {
  const all = steps(threshold), weak = all.filter((from) => from < threshold).length;
  return all.map((from, i) => {
    const isWeak = i < weak, count = isWeak ? weak : all.length - weak, index = isWeak ? i : i - weak;
    const [low, high] = isWeak ? [WEAKEST, LAST_WEAK] : [FIRST_STRONG, STRONGEST];
    const along = count > 1 ? index / (count - 1) : 1;
    return {from, isWeak, rgb: rgbOf(low.map((value, j) => value + along * (high[j] - value)))};
  });
}
