/**
 * Mean pressure under a rectangle for the linear film equation ∇²P - q P = -1 with P = 0 at the edges; q [1/m²] complex.
 *
 * q real and positive: gas leaks through the plate; q imaginary: gas is compressed. Cosine series along the length, each term solved
 * across the width, derived here: mean P = sum over odd n of 8/(n² pi²) [1 - tanh(s W/2)/(s W/2)]/s², s² = (n pi/L)² + q.
 * For q = 0 it is the series of the incompressible film. Error below 1e-9. Main test: squeeze-film.test.ts.
 */

export interface Complex {
  readonly re: number;
  readonly im: number;
}

/** The series ends where its tail, about n/3 terms as large as the last, is below this part of the sum. */
const tailTolerance = 1e-10;
const mostTerms = 200_000;

export function meanFilmPressure(size: { readonly length: number; readonly width: number }, q: Complex): Complex {
  const { length, width } = size;
  let re = 0;
  let im = 0;
  for (let n = 1; n < mostTerms; n += 2) {
    const wave = (n * Math.PI) / length;
    const term = acrossWidth({ re: wave * wave + q.re, im: q.im }, width);
    const share = 8 / (n * n * Math.PI * Math.PI);
    re += share * term.re;
    im += share * term.im;
    // Before n reaches the decay length of q the terms fall more slowly than the estimate of the tail takes for granted.
    const isPastKnee = wave * wave > Math.hypot(q.re, q.im);
    if (isPastKnee && (n / 3) * share * Math.hypot(term.re, term.im) < tailTolerance * Math.hypot(re, im)) break;
  }
  return { re, im };
}

/**
 * Mean of x P for the equation with the source -x, x along the length from its middle: the moment of a plate that tilts. Odd in x, so that
 * sines of whole waves carry it: sum over n of b²/2 [1 - tanh(s W/2)/(s W/2)]/s², b = L/(n pi), s² = (2 n pi/L)² + q. Derived here.
 */
export function meanFilmMoment(size: { readonly length: number; readonly width: number }, q: Complex): Complex {
  const { length, width } = size;
  let re = 0;
  let im = 0;
  for (let n = 1; n < mostTerms; n++) {
    const wave = (2 * n * Math.PI) / length;
    const term = acrossWidth({ re: wave * wave + q.re, im: q.im }, width);
    const share = 0.5 * (length / (n * Math.PI)) ** 2;
    re += share * term.re;
    im += share * term.im;
    const isPastKnee = wave * wave > Math.hypot(q.re, q.im);
    if (isPastKnee && n * share * Math.hypot(term.re, term.im) < tailTolerance * Math.hypot(re, im)) break;
  }
  return { re, im };
}

/** [1 - tanh(s W/2)/(s W/2)]/s² for s² = square. */
function acrossWidth(square: Complex, width: number): Complex {
  const size = Math.hypot(square.re, square.im);
  const root = {
    re: Math.sqrt((size + square.re) / 2),
    im: Math.sign(square.im) * Math.sqrt(Math.max(0, (size - square.re) / 2)),
  };
  const x = (root.re * width) / 2;
  const y = (root.im * width) / 2;
  // tanh(x + iy) = [sinh 2x + i sin 2y]/[cosh 2x + cos 2y], with exp(2x) taken out so that it cannot overflow.
  const decay = Math.exp(-2 * x);
  const bottom = (1 + decay * decay) / 2 + decay * Math.cos(2 * y);
  const tanh = { re: (1 - decay * decay) / 2 / bottom, im: (decay * Math.sin(2 * y)) / bottom };
  const ratio = divide(tanh, { re: x, im: y });
  return divide({ re: 1 - ratio.re, im: -ratio.im }, square);
}

function divide(top: Complex, bottom: Complex): Complex {
  const squared = bottom.re * bottom.re + bottom.im * bottom.im;
  return {
    re: (top.re * bottom.re + top.im * bottom.im) / squared,
    im: (top.im * bottom.re - top.re * bottom.im) / squared,
  };
}
