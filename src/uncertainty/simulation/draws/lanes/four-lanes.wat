;; Four streams of random numbers side by side, each in a lane of its own, bit for bit as the loops in TypeScript draw
;; them one by one: `propose` of ziggurat.ts and `fillSymmetric` of symmetric-uniforms.ts. What is rare stays there.
;;
;; Memory, in bytes, for at most 2048 trials:
;;       0  states of xoshiro128**: word 0 of the four lanes, then words 1, 2 and 3
;;      64  centres of the lanes; from 96 their factors
;;    2048  columns of the lanes, 16576 apart: a multiple of a page would make them fight for the cache
;;   68352  tables of ziggurats, 4288 apart: 256 pairs of width and next edge
;;   85504  trials with a deviate that is not sure, 64 each: four deviates, four layers times 16, place in the column,
;;          mask of the lanes concerned
(module
  (memory (export "memory") 4)

  ;; Fills the columns with centre + factor·x, x proposed by the ziggurat in `$table…`; returns the number of trials with
  ;; a deviate that is not sure.
  (func (export "propose")
    (param $n i32) (param $table0 i32) (param $table1 i32) (param $table2 i32) (param $table3 i32) (result i32)
    (local $s0 v128) (local $s1 v128) (local $s2 v128) (local $s3 v128) (local $x v128)
    (local $high v128) (local $low v128) (local $layer v128) (local $p v128) (local $q v128)
    (local $deviate0 v128) (local $deviate1 v128) (local $open0 v128) (local $open1 v128)
    (local $at i32) (local $end i32) (local $open i32)
    (local.set $s0 (v128.load (i32.const 0)))
    (local.set $s1 (v128.load (i32.const 16)))
    (local.set $s2 (v128.load (i32.const 32)))
    (local.set $s3 (v128.load (i32.const 48)))
    (local.set $end (i32.shl (local.get $n) (i32.const 3)))
    (loop $trial
      (local.set $x (i32x4.add (i32x4.shl (local.get $s1) (i32.const 2)) (local.get $s1)))
      (local.set $x
        (v128.or (i32x4.shl (local.get $x) (i32.const 7)) (i32x4.shr_u (local.get $x) (i32.const 25))))
      (local.set $high (i32x4.add (i32x4.shl (local.get $x) (i32.const 3)) (local.get $x)))
      (local.set $x (i32x4.shl (local.get $s1) (i32.const 9)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $s0)))
      (local.set $s3 (v128.xor (local.get $s3) (local.get $s1)))
      (local.set $s1 (v128.xor (local.get $s1) (local.get $s2)))
      (local.set $s0 (v128.xor (local.get $s0) (local.get $s3)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $x)))
      (local.set $s3
        (v128.or (i32x4.shl (local.get $s3) (i32.const 11)) (i32x4.shr_u (local.get $s3) (i32.const 21))))
      (local.set $x (i32x4.add (i32x4.shl (local.get $s1) (i32.const 2)) (local.get $s1)))
      (local.set $x
        (v128.or (i32x4.shl (local.get $x) (i32.const 7)) (i32x4.shr_u (local.get $x) (i32.const 25))))
      (local.set $low (i32x4.add (i32x4.shl (local.get $x) (i32.const 3)) (local.get $x)))
      (local.set $x (i32x4.shl (local.get $s1) (i32.const 9)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $s0)))
      (local.set $s3 (v128.xor (local.get $s3) (local.get $s1)))
      (local.set $s1 (v128.xor (local.get $s1) (local.get $s2)))
      (local.set $s0 (v128.xor (local.get $s0) (local.get $s3)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $x)))
      (local.set $s3
        (v128.or (i32x4.shl (local.get $s3) (i32.const 11)) (i32x4.shr_u (local.get $s3) (i32.const 21))))
      (local.set $layer
        (i32x4.shl (v128.and (local.get $low) (v128.const i32x4 255 255 255 255)) (i32.const 4)))
      (local.set $x (i32x4.shr_u (local.get $low) (i32.const 11)))
      ;; Lanes 0 and 1.
      (local.set $p
        (v128.load (i32.add (local.get $table0) (i32x4.extract_lane 0 (local.get $layer)))))
      (local.set $q
        (v128.load (i32.add (local.get $table1) (i32x4.extract_lane 1 (local.get $layer)))))
      (local.set $deviate0
        (f64x2.mul
          (f64x2.add
            (f64x2.mul
              (f64x2.convert_low_i32x4_s (local.get $high))
              (v128.const f64x2 2097152 2097152))
            (f64x2.convert_low_i32x4_s (local.get $x)))
          (i8x16.shuffle 0 1 2 3 4 5 6 7 16 17 18 19 20 21 22 23 (local.get $p) (local.get $q))))
      (local.set $open0
        (f64x2.ge
          (f64x2.abs (local.get $deviate0))
          (i8x16.shuffle 8 9 10 11 12 13 14 15 24 25 26 27 28 29 30 31 (local.get $p) (local.get $q))))
      (local.set $p
        (f64x2.add
          (v128.load (i32.const 64))
          (f64x2.mul (v128.load (i32.const 96)) (local.get $deviate0))))
      (v128.store64_lane offset=2048 0 (local.get $at) (local.get $p))
      (v128.store64_lane offset=18624 1 (local.get $at) (local.get $p))
      ;; Lanes 2 and 3.
      (local.set $p
        (v128.load (i32.add (local.get $table2) (i32x4.extract_lane 2 (local.get $layer)))))
      (local.set $q
        (v128.load (i32.add (local.get $table3) (i32x4.extract_lane 3 (local.get $layer)))))
      (local.set $deviate1
        (f64x2.mul
          (f64x2.add
            (f64x2.mul
              (f64x2.convert_low_i32x4_s (i8x16.shuffle 8 9 10 11 12 13 14 15 8 9 10 11 12 13 14 15 (local.get $high) (local.get $high)))
              (v128.const f64x2 2097152 2097152))
            (f64x2.convert_low_i32x4_s (i8x16.shuffle 8 9 10 11 12 13 14 15 8 9 10 11 12 13 14 15 (local.get $x) (local.get $x))))
          (i8x16.shuffle 0 1 2 3 4 5 6 7 16 17 18 19 20 21 22 23 (local.get $p) (local.get $q))))
      (local.set $open1
        (f64x2.ge
          (f64x2.abs (local.get $deviate1))
          (i8x16.shuffle 8 9 10 11 12 13 14 15 24 25 26 27 28 29 30 31 (local.get $p) (local.get $q))))
      (local.set $p
        (f64x2.add
          (v128.load (i32.const 80))
          (f64x2.mul (v128.load (i32.const 112)) (local.get $deviate1))))
      (v128.store64_lane offset=35200 0 (local.get $at) (local.get $p))
      (v128.store64_lane offset=51776 1 (local.get $at) (local.get $p))
      (if (v128.any_true (v128.or (local.get $open0) (local.get $open1)))
        (then
          (v128.store offset=85504 (local.get $open) (local.get $deviate0))
          (v128.store offset=85520 (local.get $open) (local.get $deviate1))
          (v128.store offset=85536 (local.get $open) (local.get $layer))
          (i32.store offset=85552 (local.get $open) (local.get $at))
          (i32.store offset=85556 (local.get $open)
            (i32.or
              (i64x2.bitmask (local.get $open0))
              (i32.shl (i64x2.bitmask (local.get $open1)) (i32.const 2))))
          (local.set $open (i32.add (local.get $open) (i32.const 64)))))
      (local.set $at (i32.add (local.get $at) (i32.const 8)))
      (br_if $trial (i32.lt_u (local.get $at) (local.get $end))))
    (v128.store (i32.const 0) (local.get $s0))
    (v128.store (i32.const 16) (local.get $s1))
    (v128.store (i32.const 32) (local.get $s2))
    (v128.store (i32.const 48) (local.get $s3))
    (i32.shr_u (local.get $open) (i32.const 6)))

  ;; Fills the columns with centre + (signed 53-bit number + 1/2)·factor.
  (func (export "fillSymmetric") (param $n i32)
    (local $s0 v128) (local $s1 v128) (local $s2 v128) (local $s3 v128) (local $x v128)
    (local $high v128) (local $low v128) (local $p v128) (local $at i32) (local $end i32)
    (local.set $s0 (v128.load (i32.const 0)))
    (local.set $s1 (v128.load (i32.const 16)))
    (local.set $s2 (v128.load (i32.const 32)))
    (local.set $s3 (v128.load (i32.const 48)))
    (local.set $end (i32.shl (local.get $n) (i32.const 3)))
    (loop $trial
      (local.set $x (i32x4.add (i32x4.shl (local.get $s1) (i32.const 2)) (local.get $s1)))
      (local.set $x
        (v128.or (i32x4.shl (local.get $x) (i32.const 7)) (i32x4.shr_u (local.get $x) (i32.const 25))))
      (local.set $high (i32x4.add (i32x4.shl (local.get $x) (i32.const 3)) (local.get $x)))
      (local.set $x (i32x4.shl (local.get $s1) (i32.const 9)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $s0)))
      (local.set $s3 (v128.xor (local.get $s3) (local.get $s1)))
      (local.set $s1 (v128.xor (local.get $s1) (local.get $s2)))
      (local.set $s0 (v128.xor (local.get $s0) (local.get $s3)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $x)))
      (local.set $s3
        (v128.or (i32x4.shl (local.get $s3) (i32.const 11)) (i32x4.shr_u (local.get $s3) (i32.const 21))))
      (local.set $x (i32x4.add (i32x4.shl (local.get $s1) (i32.const 2)) (local.get $s1)))
      (local.set $x
        (v128.or (i32x4.shl (local.get $x) (i32.const 7)) (i32x4.shr_u (local.get $x) (i32.const 25))))
      (local.set $low (i32x4.add (i32x4.shl (local.get $x) (i32.const 3)) (local.get $x)))
      (local.set $x (i32x4.shl (local.get $s1) (i32.const 9)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $s0)))
      (local.set $s3 (v128.xor (local.get $s3) (local.get $s1)))
      (local.set $s1 (v128.xor (local.get $s1) (local.get $s2)))
      (local.set $s0 (v128.xor (local.get $s0) (local.get $s3)))
      (local.set $s2 (v128.xor (local.get $s2) (local.get $x)))
      (local.set $s3
        (v128.or (i32x4.shl (local.get $s3) (i32.const 11)) (i32x4.shr_u (local.get $s3) (i32.const 21))))
      (local.set $x (i32x4.shr_u (local.get $low) (i32.const 11)))
      ;; Lanes 0 and 1.
      (local.set $p
        (f64x2.add
          (v128.load (i32.const 64))
          (f64x2.mul
            (f64x2.add
              (f64x2.add
                (f64x2.mul
                  (f64x2.convert_low_i32x4_s (local.get $high))
                  (v128.const f64x2 2097152 2097152))
                (f64x2.convert_low_i32x4_s (local.get $x)))
              (v128.const f64x2 0.5 0.5))
            (v128.load (i32.const 96)))))
      (v128.store64_lane offset=2048 0 (local.get $at) (local.get $p))
      (v128.store64_lane offset=18624 1 (local.get $at) (local.get $p))
      ;; Lanes 2 and 3.
      (local.set $p
        (f64x2.add
          (v128.load (i32.const 80))
          (f64x2.mul
            (f64x2.add
              (f64x2.add
                (f64x2.mul
                  (f64x2.convert_low_i32x4_s (i8x16.shuffle 8 9 10 11 12 13 14 15 8 9 10 11 12 13 14 15 (local.get $high) (local.get $high)))
                  (v128.const f64x2 2097152 2097152))
                (f64x2.convert_low_i32x4_s (i8x16.shuffle 8 9 10 11 12 13 14 15 8 9 10 11 12 13 14 15 (local.get $x) (local.get $x))))
              (v128.const f64x2 0.5 0.5))
            (v128.load (i32.const 112)))))
      (v128.store64_lane offset=35200 0 (local.get $at) (local.get $p))
      (v128.store64_lane offset=51776 1 (local.get $at) (local.get $p))
      (local.set $at (i32.add (local.get $at) (i32.const 8)))
      (br_if $trial (i32.lt_u (local.get $at) (local.get $end))))
    (v128.store (i32.const 0) (local.get $s0))
    (v128.store (i32.const 16) (local.get $s1))
    (v128.store (i32.const 32) (local.get $s2))
    (v128.store (i32.const 48) (local.get $s3))  ))
