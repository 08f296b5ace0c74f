// Links map and profile: a slider walks along the route, by keys, by hand or by pointing at a drawing, and says what is there.

/** @typedef {[number, number] | null} Spot */
/** @typedef {[string, Spot, Spot, Spot]} Step */

const SVG = 'http://www.w3.org/2000/svg';
const box = /** @type {HTMLElement | null} */ (document.querySelector('[data-along]'));
const slider = /** @type {HTMLInputElement | null} */ (document.getElementById('along'));
const said = document.getElementById('along-text');

if (box !== null && slider !== null && said !== null) {
  const steps = /** @type {Step[]} */ (JSON.parse(box.dataset.along ?? '[]'));
  const drawings = ['.map', '.profile.wide', '.profile.narrow'].flatMap((selector, i) => {
    const svg = /** @type {SVGSVGElement | null} */ (document.querySelector(selector));
    if (svg === null) return [];
    const pin = document.createElementNS(SVG, 'g');
    pin.setAttribute('class', 'here');
    pin.setAttribute('visibility', 'hidden');
    for (const radius of [9, 3]) {
      const circle = document.createElementNS(SVG, 'circle');
      circle.setAttribute('r', String(radius));
      pin.append(circle);
    }
    svg.append(pin);
    return [{ svg, pin, at: i + 1, isMap: i === 0 }];
  });

  /** @param {number} index */
  const show = (index) => {
    const step = steps[index];
    if (step === undefined) return;
    slider.value = String(index);
    slider.setAttribute('aria-valuetext', step[0]);
    said.textContent = step[0];
    for (const { pin, at } of drawings) {
      const spot = /** @type {Spot} */ (step[at]);
      pin.setAttribute('visibility', spot === null ? 'hidden' : 'visible');
      if (spot !== null) pin.setAttribute('transform', `translate(${spot[0]} ${spot[1]})`);
    }
  };

  for (const { svg, at, isMap } of drawings) {
    /** @param {PointerEvent} event */
    const point = (event) => {
      const matrix = svg.getScreenCTM();
      if (matrix === null) return;
      const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
      let nearest = -1;
      let least = Number.POSITIVE_INFINITY;
      steps.forEach((step, i) => {
        const spot = /** @type {Spot} */ (step[at]);
        if (spot === null) return;
        const off = isMap ? Math.hypot(spot[0] - x, spot[1] - y) : Math.abs(spot[0] - x);
        if (off < least) {
          least = off;
          nearest = i;
        }
      });
      if (nearest >= 0) show(nearest);
    };
    svg.addEventListener('pointermove', point);
    svg.addEventListener('pointerdown', point);
  }
  slider.max = String(steps.length - 1);
  slider.setAttribute('aria-valuetext', steps[0]?.[0] ?? '');
  slider.addEventListener('input', () => show(Number(slider.value)));
  box.hidden = false;
}
