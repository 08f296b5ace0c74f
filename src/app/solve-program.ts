/** The only file that knows HiGHS, a solver of mixed-integer programs compiled to WebAssembly. */

import loadHighs from 'highs';
import { at } from '../array.ts';
import type { Solve } from '../season/assign-board.ts';
import type { BinaryProgram } from '../season/board-program.ts';

// Its types describe the CommonJS build, where the loader is the export's `default`; in the module build it is the export.
const load = loadHighs as unknown as typeof loadHighs.default;

/** Row by row: starts, columns and values end to end. */
function matrixOf({ objective, rows }: BinaryProgram) {
  const starts = new Int32Array(rows.length + 1);
  rows.forEach(({ columns }, row) => {
    starts[row + 1] = at(starts, row) + columns.length;
  });
  return {
    format: 'csr' as const,
    numRows: rows.length,
    numCols: objective.length,
    starts,
    indices: Int32Array.from(rows.flatMap(({ columns }) => columns)),
    values: Float64Array.from(rows.flatMap(({ values }) => values)),
  };
}

/**
 * Loads the solver. Its answers are exact (no gap is allowed) while its time lasts: every program may take half of what
 * is left of it, so that the later ones have some.
 *
 * @param leftMs how much time is left, ms
 */
export async function openSolver(leftMs: () => number): Promise<Solve> {
  const highs = await load();
  const { modelStatus } = highs.constants;
  return (program, start) => {
    const columns = program.objective.length;
    if (program.rows.some(({ columns: used, atLeast }) => used.length === 0 && atLeast > 0)) {
      return { chosen: null, bound: Number.NEGATIVE_INFINITY, isProven: true };
    }
    if (columns === 0) return { chosen: [], bound: 0, isProven: true };
    const timeS = leftMs() / 2000;
    const known = start.length > 0 ? start : null;
    if (timeS <= 0) return { chosen: known, bound: Number.POSITIVE_INFINITY, isProven: false };
    return highs.withModel(
      {
        numCols: columns,
        numRows: program.rows.length,
        sense: highs.constants.objectiveSense.maximize,
        offset: 0,
        colCost: Float64Array.from(program.objective),
        colLower: new Float64Array(columns),
        colUpper: new Float64Array(columns).fill(1),
        rowLower: Float64Array.from(program.rows, ({ atLeast }) => atLeast),
        rowUpper: Float64Array.from(program.rows, ({ atMost }) => atMost),
        matrix: matrixOf(program),
        integrality: new Int32Array(columns).fill(highs.constants.variableType.integer),
      },
      (model) => {
        model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-9, time_limit: timeS });
        if (known !== null) {
          const isKnown = new Set(known);
          model.setSolution({
            colValue: Float64Array.from({ length: columns }, (_, column) => (isKnown.has(column) ? 1 : 0)),
          });
        }
        model.run();
        const status = model.getModelStatus();
        if (status === modelStatus.infeasible) {
          return { chosen: null, bound: Number.NEGATIVE_INFINITY, isProven: true };
        }
        const isProven = status === modelStatus.optimal;
        if (!isProven && status !== modelStatus.timeLimit) {
          throw new RangeError(`the solver ended with status ${status}`);
        }
        const isFeasible = model.info.get('primal_solution_status') === 2;
        const values = isFeasible ? model.getSolution().colValue : null;
        const chosen = values === null ? known : [...values.keys()].filter((k) => at(values, k) > 0.5);
        return { chosen, bound: Number(model.info.get('mip_dual_bound')), isProven };
      },
    );
  };
}
