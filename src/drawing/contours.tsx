const LINES = [
  'M0 21C60 20 90 9 150 8s80 9 150 10 90-13 160-14 90 14 140 15',
  'M0 25C60 24 96 14 150 13s84 8 150 9 96-12 160-13 88 13 140 14',
  'M0 29C60 28 102 19 150 18s88 7 150 8 102-11 160-12 86 12 140 13',
];

/** Contour lines, drawn once for the whole file; nothing in them but looks. */
export function ContourShape() {
  return (
    <svg class="shapes" aria-hidden="true" focusable="false">
      <symbol id="contours" viewBox="0 0 600 34" preserveAspectRatio="none">
        {LINES.map((d) => (
          <path d={d} fill="none" stroke="currentColor" vector-effect="non-scaling-stroke" />
        ))}
      </symbol>
    </svg>
  );
}

export function ContourRule() {
  return (
    <svg class="rule" aria-hidden="true" focusable="false">
      <use href="#contours" />
    </svg>
  );
}
