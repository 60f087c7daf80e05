/** One line of the table that `npm run bench` prints. */
export interface BenchRow {
  id: string;
  what: string;
  value: number;
  unit: string;
  /** What is to be reached, as "at least 0.45". */
  reach: string;
  holds: boolean;
}
