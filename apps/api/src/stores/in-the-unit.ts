/** SQL: how many of a line are fitted and not taken back or out again. */
export function fittedOf(line: string): string {
  return `(coalesce((SELECT sum(quantity) FROM fittings WHERE job_line_id = ${line}), 0)
         - coalesce((SELECT sum(ended.quantity) FROM fitting_endings AS ended JOIN fittings ON fittings.id = ended.fitting_id WHERE job_line_id = ${line}), 0))`;
}

/** SQL: how many of a line's own parts were found fit to be used again and did not leave the unit. */
export function reusedOf(line: string): string {
  return `greatest(coalesce((SELECT quantity_reused FROM findings WHERE job_line_id = ${line} ORDER BY recorded_at DESC, id DESC LIMIT 1), 0)
         - coalesce((SELECT sum(fittings.quantity) FROM fittings WHERE job_line_id = ${line} AND reused
                       AND NOT EXISTS (SELECT 1 FROM fitting_endings WHERE fitting_id = fittings.id)), 0), 0)`;
}

/** SQL: how many of a line are in the unit already: fitted, or left in it to be used again. */
export function inTheUnit(line: string): string {
  return `${fittedOf(line)} + ${reusedOf(line)}`;
}
