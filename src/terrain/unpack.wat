;; The inner loops of unpacking, a third of the time that JavaScript takes for them and fast from the first block on
;; (measured). `npm run make:unpack` makes unpack-module.ts of it.
;; Callers (through unpack-kernel.ts) give addresses and leave room; nothing here asks for memory.
(module
  (memory (export "memory") 1)

  ;; TIFF's LZW (TIFF 6.0, section 13: most significant bit first, codes grow one early).
  ;;
  ;; The n-th string of the table is what the n-th code since the table was cleared stands for, and one byte more; both
  ;; stand in the output already. So the table is a list of addresses, string n runs from address n to one byte past
  ;; address n + 1, and a code is one copy. Addresses 0 to 256 are those of the 256 single bytes and of their end.
  ;;
  ;; Up to 4 bytes past the input and 16 past the output are read, and up to 4,104 bytes past $end are written.
  ;;
  ;; Gives the bytes written and 0, or 1 where the input ends without an end, 2 where a code cannot be.
  (func (export "inflateLzw")
    (param $table i32) (param $input i32) (param $bitsHeld i32) (param $out i32) (param $end i32)
    (result i32 i32)
    (local $bit i32) (local $bits i32) (local $word i32) (local $wider i32) (local $code i32) (local $free i32)
    (local $written i32) (local $entry i32) (local $from i32) (local $length i32) (local $i i32)
    (local.set $written (local.get $out))
    (local.set $bits (i32.const 9))
    (local.set $wider (i32.const 512))
    (local.set $free (i32.const 258))
    (block $done
      (loop $next
        (br_if $done (i32.ge_u (local.get $written) (local.get $end)))
        ;; Four bytes, then the other way round: the first holds the code's first bits.
        (local.set $word
          (i32.load (i32.add (local.get $input) (i32.shr_u (local.get $bit) (i32.const 3)))))
        (local.set $word
          (i32.or
            (i32.and (i32.rotl (local.get $word) (i32.const 8)) (i32.const 0x00ff00ff))
            (i32.and (i32.rotr (local.get $word) (i32.const 8)) (i32.const 0xff00ff00))))
        (local.set $code
          (i32.shr_u
            (i32.shl (local.get $word) (i32.and (local.get $bit) (i32.const 7)))
            (i32.sub (i32.const 32) (local.get $bits))))
        (local.set $bit (i32.add (local.get $bit) (local.get $bits)))
        (if (i32.gt_u (local.get $bit) (local.get $bitsHeld))
          (then (return (i32.sub (local.get $written) (local.get $out)) (i32.const 1))))
        (if (i32.eq (i32.shr_u (local.get $code) (i32.const 1)) (i32.const 128))
          (then
            (br_if $done (i32.eq (local.get $code) (i32.const 257)))
            (local.set $bits (i32.const 9))
            (local.set $wider (i32.const 512))
            (local.set $free (i32.const 258))
            (br $next)))
        (if (i32.ge_u (local.get $code) (local.get $free))
          (then (return (i32.sub (local.get $written) (local.get $out)) (i32.const 2))))
        ;; A full table holds 4,096 strings and the end of the last.
        (if (i32.le_u (local.get $free) (i32.const 4096))
          (then
            (i32.store
              (i32.add (local.get $table) (i32.shl (local.get $free) (i32.const 2)))
              (local.get $written))
            (local.set $free (i32.add (local.get $free) (i32.const 1)))
            (if (i32.eq (local.get $free) (local.get $wider))
              (then
                ;; Codes of more than 12 bits are not.
                (if (i32.lt_u (local.get $bits) (i32.const 12))
                  (then
                    (local.set $bits (i32.add (local.get $bits) (i32.const 1)))
                    (local.set $wider (i32.shl (local.get $wider) (i32.const 1)))))))))
        (local.set $entry (i32.add (local.get $table) (i32.shl (local.get $code) (i32.const 2))))
        (local.set $from (i32.load (local.get $entry)))
        ;; Single bytes are not longer than the way to the next.
        (local.set $length
          (i32.add
            (i32.sub (i32.load offset=4 (local.get $entry)) (local.get $from))
            (i32.gt_u (local.get $code) (i32.const 257))))
        ;; Eight bytes at once, needed or not: most strings are shorter.
        (i64.store (local.get $written) (i64.load (local.get $from)))
        (if (i32.gt_u (local.get $length) (i32.const 8))
          (then
            (local.set $i (i32.const 8))
            (loop $more
              (i64.store
                (i32.add (local.get $written) (local.get $i))
                (i64.load (i32.add (local.get $from) (local.get $i))))
              (local.set $i (i32.add (local.get $i) (i32.const 8)))
              (br_if $more (i32.lt_u (local.get $i) (local.get $length))))))
        ;; The newest string may be meant before it is whole: its last byte is its first.
        (if (i32.gt_u (i32.add (local.get $from) (local.get $length)) (local.get $written))
          (then
            (i32.store8
              (i32.sub (i32.add (local.get $written) (local.get $length)) (i32.const 1))
              (i32.load8_u (local.get $from)))))
        (local.set $written (i32.add (local.get $written) (local.get $length)))
        (br $next)))
    (return (i32.sub (local.get $written) (local.get $out)) (i32.const 0)))

  ;; Predictor 3 of 32-bit floats (Adobe, TIFF Technical Note 3: a row's bytes apart by weight, heaviest first, each the
  ;; difference from the one before), row by row from $from to $to, sixteen columns at once. $row is room for a row. Up to
  ;; 16 bytes past each row are read and 60 written, so $to lies 64 bytes before $from, where that does no harm; $row is
  ;; written up to 16 bytes past its end.
  (func (export "undoFloatDifferences")
    (param $from i32) (param $to i32) (param $width i32) (param $rows i32) (param $row i32)
    (local $rowBytes i32) (local $i i32) (local $zero v128) (local $sum v128) (local $before v128)
    (local $at i32) (local $put i32) (local $b3 v128) (local $b2 v128) (local $b1 v128) (local $b0 v128)
    (local $low v128) (local $high v128)
    (local.set $rowBytes (i32.shl (local.get $width) (i32.const 2)))
    (block $done
      (loop $nextRow
        (br_if $done (i32.eqz (local.get $rows)))
        ;; Sums along the row: within sixteen bytes by doubling, then what stood before.
        (local.set $before (local.get $zero))
        (local.set $i (i32.const 0))
        (loop $sums
          (local.set $sum (v128.load (i32.add (local.get $from) (local.get $i))))
          (local.set $sum
            (i8x16.add (local.get $sum)
              (i8x16.shuffle 16 0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 (local.get $sum) (local.get $zero))))
          (local.set $sum
            (i8x16.add (local.get $sum)
              (i8x16.shuffle 16 16 0 1 2 3 4 5 6 7 8 9 10 11 12 13 (local.get $sum) (local.get $zero))))
          (local.set $sum
            (i8x16.add (local.get $sum)
              (i8x16.shuffle 16 16 16 16 0 1 2 3 4 5 6 7 8 9 10 11 (local.get $sum) (local.get $zero))))
          (local.set $sum
            (i8x16.add (local.get $sum)
              (i8x16.shuffle 16 16 16 16 16 16 16 16 0 1 2 3 4 5 6 7 (local.get $sum) (local.get $zero))))
          (local.set $sum (i8x16.add (local.get $sum) (local.get $before)))
          (v128.store (i32.add (local.get $row) (local.get $i)) (local.get $sum))
          (local.set $before
            (i8x16.shuffle 15 15 15 15 15 15 15 15 15 15 15 15 15 15 15 15 (local.get $sum) (local.get $sum)))
          (local.set $i (i32.add (local.get $i) (i32.const 16)))
          (br_if $sums (i32.lt_u (local.get $i) (local.get $rowBytes))))
        ;; The four bytes of each float together, lightest first.
        (local.set $i (i32.const 0))
        (loop $together
          (local.set $at (i32.add (local.get $row) (local.get $i)))
          (local.set $b3 (v128.load (local.get $at)))
          (local.set $at (i32.add (local.get $at) (local.get $width)))
          (local.set $b2 (v128.load (local.get $at)))
          (local.set $at (i32.add (local.get $at) (local.get $width)))
          (local.set $b1 (v128.load (local.get $at)))
          (local.set $b0 (v128.load (i32.add (local.get $at) (local.get $width))))
          (local.set $put (i32.add (local.get $to) (i32.shl (local.get $i) (i32.const 2))))
          (local.set $low
            (i8x16.shuffle 0 16 1 17 2 18 3 19 4 20 5 21 6 22 7 23 (local.get $b0) (local.get $b1)))
          (local.set $high
            (i8x16.shuffle 0 16 1 17 2 18 3 19 4 20 5 21 6 22 7 23 (local.get $b2) (local.get $b3)))
          (v128.store (local.get $put)
            (i8x16.shuffle 0 1 16 17 2 3 18 19 4 5 20 21 6 7 22 23 (local.get $low) (local.get $high)))
          (v128.store offset=16 (local.get $put)
            (i8x16.shuffle 8 9 24 25 10 11 26 27 12 13 28 29 14 15 30 31 (local.get $low) (local.get $high)))
          (local.set $low
            (i8x16.shuffle 8 24 9 25 10 26 11 27 12 28 13 29 14 30 15 31 (local.get $b0) (local.get $b1)))
          (local.set $high
            (i8x16.shuffle 8 24 9 25 10 26 11 27 12 28 13 29 14 30 15 31 (local.get $b2) (local.get $b3)))
          (v128.store offset=32 (local.get $put)
            (i8x16.shuffle 0 1 16 17 2 3 18 19 4 5 20 21 6 7 22 23 (local.get $low) (local.get $high)))
          (v128.store offset=48 (local.get $put)
            (i8x16.shuffle 8 9 24 25 10 11 26 27 12 13 28 29 14 15 30 31 (local.get $low) (local.get $high)))
          (local.set $i (i32.add (local.get $i) (i32.const 16)))
          (br_if $together (i32.lt_u (local.get $i) (local.get $width))))
        (local.set $from (i32.add (local.get $from) (local.get $rowBytes)))
        (local.set $to (i32.add (local.get $to) (local.get $rowBytes)))
        (local.set $rows (i32.sub (local.get $rows) (i32.const 1)))
        (br $nextRow))))

  ;; What is not a number, lies outside $lowest to $highest or is $nodata becomes not a number: $count 32-bit floats from
  ;; $at, four at once; up to 12 bytes past them are written.
  (func (export "markVoids")
    (param $at i32) (param $count i32) (param $lowest f32) (param $highest f32) (param $nodata f32)
    (local $end i32) (local $heights v128)
    (local.set $end (i32.add (local.get $at) (i32.shl (local.get $count) (i32.const 2))))
    (block $done
      (loop $next
        (br_if $done (i32.ge_u (local.get $at) (local.get $end)))
        (local.set $heights (v128.load (local.get $at)))
        (v128.store (local.get $at)
          (v128.bitselect
            (local.get $heights)
            (f32x4.splat (f32.const nan))
            (v128.and
              (v128.and
                (f32x4.ge (local.get $heights) (f32x4.splat (local.get $lowest)))
                (f32x4.le (local.get $heights) (f32x4.splat (local.get $highest))))
              (f32x4.ne (local.get $heights) (f32x4.splat (local.get $nodata))))))
        (local.set $at (i32.add (local.get $at) (i32.const 16)))
        (br $next)))))
