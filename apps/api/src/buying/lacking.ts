import { inTheUnit } from '../stores/in-the-unit.js';

/** SQL: what a line of a job still lacks: what it needs less what is in the unit and less what is claimed for it of what we have. */
export function lackingOf(lines: string): string {
  return `${lines}.quantity - (${inTheUnit(`${lines}.id`)})
         - coalesce((SELECT sum(claims.quantity) FROM claims WHERE purpose_id = ${lines}.id), 0)`;
}
