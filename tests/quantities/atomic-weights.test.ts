import { describe, expect, it } from 'vitest';
import { atomicWeight, elementSymbols } from '../../src/quantities/atomic-weights.js';
import { reference } from '../support/reference.js';

// IUPAC/CIAAW, abridged table 2024: values remembered and recomputed.
const abridged = reference<{ published: { name: string; printed: string; uncertainty: string }[] }>(
  'quantities/abridged-atomic-weights',
);

// IUPAC/CIAAW Standard Atomic Weights 2024 (read in a public copy): middle and half-width of each printed interval; of
// x(n), x and n units of its last digit. In exact decimal arithmetic.
const standard = `
H 1.007975 0.000135; He 4.002602 0.000002; Li 6.9675 0.0295; Be 9.0121831 0.0000005; B 10.8135 0.0075;
C 12.0106 0.0010; N 14.006855 0.000425; O 15.99940 0.00037; F 18.998403162 0.000000005; Ne 20.1797 0.0006;
Na 22.98976928 0.00000002; Mg 24.3055 0.0015; Al 26.9815384 0.0000003; Si 28.085 0.001;
P 30.973761998 0.000000005; S 32.0675 0.0085; Cl 35.4515 0.0055; Ar 39.8775 0.0855; K 39.0983 0.0001;
Ca 40.078 0.004; Sc 44.955907 0.000004; Ti 47.867 0.001; V 50.9415 0.0001; Cr 51.9961 0.0006;
Mn 54.938043 0.000002; Fe 55.845 0.002; Co 58.933194 0.000003; Ni 58.6934 0.0004; Cu 63.546 0.003; Zn 65.38 0.02;
Ga 69.723 0.001; Ge 72.630 0.008; As 74.921595 0.000006; Se 78.971 0.008; Br 79.904 0.003; Kr 83.798 0.002;
Rb 85.4678 0.0003; Sr 87.62 0.01; Y 88.905838 0.000002; Zr 91.222 0.003; Nb 92.90637 0.00001; Mo 95.95 0.01;
Ru 101.07 0.02; Rh 102.90549 0.00002; Pd 106.42 0.01; Ag 107.8682 0.0002; Cd 112.414 0.004; In 114.818 0.001;
Sn 118.710 0.007; Sb 121.760 0.001; Te 127.60 0.03; I 126.90447 0.00003; Xe 131.293 0.006;
Cs 132.90545196 0.00000006; Ba 137.327 0.007; La 138.90547 0.00007; Ce 140.116 0.001; Pr 140.90766 0.00001;
Nd 144.242 0.003; Sm 150.36 0.02; Eu 151.964 0.001; Gd 157.249 0.002; Tb 158.925354 0.000007; Dy 162.500 0.001;
Ho 164.930329 0.000005; Er 167.259 0.003; Tm 168.934219 0.000005; Yb 173.045 0.010; Lu 174.96669 0.00005;
Hf 178.486 0.006; Ta 180.94788 0.00002; W 183.84 0.01; Re 186.207 0.001; Os 190.23 0.03; Ir 192.217 0.002;
Pt 195.084 0.009; Au 196.966570 0.000004; Hg 200.592 0.003; Tl 204.3835 0.0015; Pb 207.04 0.90;
Bi 208.98040 0.00001; Th 232.0377 0.0004; Pa 231.03588 0.00001; U 238.02891 0.00003`
  .trim()
  .split(/;\s+/)
  .map((row) => row.split(' ') as [element: string, value: string, halfWidth: string]);

describe('atomicWeight', () => {
  it.each(abridged.published)('lies with its whole interval within the abridged value of $name', (row) => {
    const { value, halfWidth } = atomicWeight(row.name);
    const reach = Math.abs(value - Number(row.printed)) + halfWidth;
    expect(reach).toBeLessThanOrEqual(Number(row.uncertainty) * (1 + 1e-9));
  });

  it.each(standard)('of %s is %s g/mol with half-width %s', (element, value, halfWidth) => {
    const found = atomicWeight(element);
    expect(found.value).toAgreeWithin(Number(value), 1e-15);
    expect(found.halfWidth).toAgreeWithin(Number(halfWidth), 1e-9);
    expect(found.standardUncertainty).toAgreeWithin(Number(halfWidth) / Math.sqrt(3), 1e-9);
  });

  it('has no element beside them', () => {
    expect(standard.map(([element]) => element)).toEqual(elementSymbols);
  });

  it('rises along the table but where nature does not', () => {
    const falls = elementSymbols.filter(
      (symbol, i) => i > 0 && atomicWeight(symbol).value < atomicWeight(elementSymbols[i - 1]!).value,
    );
    expect(falls).toEqual(['K', 'Ni', 'I', 'Pa']);
    expect(elementSymbols).toHaveLength(84);
  });

  it.each(['Tc', 'constructor', '', 'zr'])('refuses "%s"', (symbol) => {
    expect(() => atomicWeight(symbol)).toThrow(`found element "${symbol}"`);
  });
});
