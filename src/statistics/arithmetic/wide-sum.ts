import type { DoubleDouble } from './double-double.js';

const splitter = 134217729; // 2^27 + 1

/** A running sum of about 106 bits, changed in place: for long loops, where numbers made one by one would cost more. */
export class WideSum {
  hi = 0;
  lo = 0;

  /** Adds hi + lo. */
  add(hi: number, lo: number): void {
    const s = this.hi + hi;
    const v = s - this.hi;
    const error = this.hi - (s - v) + (hi - v);
    const t = this.lo + lo;
    const w = t - this.lo;
    const rest = this.lo - (t - w) + (lo - w);
    const u = error + t;
    const h = s + u;
    const l = u - (h - s) + rest;
    this.hi = h + l;
    this.lo = l - (this.hi - h);
  }

  /** Adds (a + aLo)·(b + bLo). */
  addProduct(a: number, aLo: number, b: number, bLo: number): void {
    const product = a * b;
    const cutA = splitter * a;
    const highA = cutA - (cutA - a);
    const lowA = a - highA;
    const cutB = splitter * b;
    const highB = cutB - (cutB - b);
    const lowB = b - highB;
    const error = highA * highB - product + highA * lowB + lowA * highB + lowA * lowB;
    this.add(product, error + (a * bLo + aLo * b));
  }

  value(): DoubleDouble {
    return { hi: this.hi, lo: this.lo };
  }
}
