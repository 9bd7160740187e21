// Arithmetic on columns, whose length is a multiple of four: four values a turn take half the time of one. Results may
// stand in the column of an operand. Every loop is a function of its own, so that it is compiled for just what it does.

export function addColumns(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! + b[i]!;
    const second = a[i + 1]! + b[i + 1]!;
    const third = a[i + 2]! + b[i + 2]!;
    const fourth = a[i + 3]! + b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

export function addConstant(a: Float64Array, b: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! + b;
    const second = a[i + 1]! + b;
    const third = a[i + 2]! + b;
    const fourth = a[i + 3]! + b;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

export function subtractColumns(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! - b[i]!;
    const second = a[i + 1]! - b[i + 1]!;
    const third = a[i + 2]! - b[i + 2]!;
    const fourth = a[i + 3]! - b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

/** a − b */
export function subtractFrom(a: number, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a - b[i]!;
    const second = a - b[i + 1]!;
    const third = a - b[i + 2]!;
    const fourth = a - b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

export function multiplyColumns(a: Float64Array, b: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! * b[i]!;
    const second = a[i + 1]! * b[i + 1]!;
    const third = a[i + 2]! * b[i + 2]!;
    const fourth = a[i + 3]! * b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

export function multiplyConstant(a: Float64Array, b: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! * b;
    const second = a[i + 1]! * b;
    const third = a[i + 2]! * b;
    const fourth = a[i + 3]! * b;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

/** centre + factor·a */
export function scaleColumn(a: Float64Array, centre: number, factor: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = centre + factor * a[i]!;
    const second = centre + factor * a[i + 1]!;
    const third = centre + factor * a[i + 2]!;
    const fourth = centre + factor * a[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

/** a + factor·b */
export function addMultiple(a: Float64Array, b: Float64Array, factor: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = a[i]! + factor * b[i]!;
    const second = a[i + 1]! + factor * b[i + 1]!;
    const third = a[i + 2]! + factor * b[i + 2]!;
    const fourth = a[i + 3]! + factor * b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}

/** a·b + c */
export function multiplyAndAdd(a: Float64Array, b: Float64Array, c: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 4) {
    const first = c + a[i]! * b[i]!;
    const second = c + a[i + 1]! * b[i + 1]!;
    const third = c + a[i + 2]! * b[i + 2]!;
    const fourth = c + a[i + 3]! * b[i + 3]!;
    out[i] = first;
    out[i + 1] = second;
    out[i + 2] = third;
    out[i + 3] = fourth;
  }
}
