/**
 * Light at plane faces: Fresnel reflectance of a bare face, and an absorbing slab whose inner passes add up without interference.
 *
 * Validity: smooth faces, wavelength small against all sizes; the slab also needs a thickness or a bandwidth that washes out
 * interference. Error: rounding. Source: Born & Wolf, Principles of Optics, sections 1.5 and 14.2 [born1999] FROM MEMORY.
 * Main test: fresnel.test.ts.
 */

/** Complex refractive index n + i k at the wavelength in question. */
export interface RefractiveIndex {
  readonly n: number;
  /** Extinction; 0 where it is left out. */
  readonly k?: number;
}

/** Reflected share of the power, one number for each polarisation. */
export interface Reflectance {
  /** Electric field along the face. */
  readonly s: number;
  /** Electric field in the plane of incidence. */
  readonly p: number;
}

/** Fresnel reflectance of a face met from vacuum at the given cosine of the angle of incidence. */
export function fresnelReflectance(index: RefractiveIndex, cosine: number): Reflectance {
  const { n, k = 0 } = index;
  // N² = n² - k² + 2 i n k; q = sqrt(N² - sin²) is the normal component of the wave inside, over that of vacuum.
  const squareReal = n * n - k * k;
  const squareImaginary = 2 * n * k;
  const real = squareReal - 1 + cosine * cosine;
  const size = Math.hypot(real, squareImaginary);
  // The branch that decays inwards has both parts >= 0; the larger part first, or the difference would lose its digits.
  const large = Math.sqrt((size + Math.abs(real)) / 2);
  const small = large === 0 ? 0 : squareImaginary / (2 * large);
  const [qReal, qImaginary] = real >= 0 ? [large, small] : [small, large];
  const s = ratio(cosine - qReal, -qImaginary, cosine + qReal, qImaginary);
  const [pReal, pImaginary] = [squareReal * cosine, squareImaginary * cosine];
  const p = ratio(pReal - qReal, pImaginary - qImaginary, pReal + qReal, pImaginary + qImaginary);
  return { s, p };
}

/** |a|²/|b|² of two complex numbers. A vanishing denominator means a face that is not there at all or is met edge on. */
function ratio(aReal: number, aImaginary: number, bReal: number, bImaginary: number): number {
  const below = bReal * bReal + bImaginary * bImaginary;
  return below === 0 ? 1 : (aReal * aReal + aImaginary * aImaginary) / below;
}

/** What becomes of the light that meets a slab; the three shares add up to 1. */
export interface SlabShares {
  readonly reflected: number;
  readonly transmitted: number;
  readonly absorbed: number;
}

/**
 * A slab with two equal faces of the given reflectance and the share `kept` of the light that survives one pass inside:
 * the geometric series of inner reflections, T = (1 - R)² E / (1 - R² E²), R_slab = R (1 + E T).
 */
export function slabShares(face: number, kept: number): SlabShares {
  if (face >= 1) return { reflected: 1, transmitted: 0, absorbed: 0 };
  const transmitted = ((1 - face) * (1 - face) * kept) / (1 - face * face * kept * kept);
  const reflected = face * (1 + kept * transmitted);
  return { reflected, transmitted, absorbed: ((1 - face) * (1 - kept)) / (1 - face * kept) };
}
