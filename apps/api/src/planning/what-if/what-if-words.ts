import type { Turn } from '@corewright/contracts/what-if';

/** What it comes to, in a sentence. */
export function whatIfWords(openJobs: number, counts: Readonly<Record<Turn, number>>): string {
  if (openJobs === 0) return 'No job is open, so nothing changes.';
  const differ = Object.values(counts).reduce((sum, count) => sum + count, 0);
  const all = openJobs === 1 ? 'the one open job' : `any of the ${openJobs} open jobs`;
  if (differ === 0) return `Nothing changes for ${all}: every line is covered as it is now, and every date stays.`;
  const said = [
    countWords(counts.better, 'would stand better'),
    countWords(counts.worse, 'would stand worse'),
    countWords(counts.both, 'would win on one side and lose on the other'),
    countWords(counts.otherwise, 'would be covered from elsewhere, as well as now'),
    countWords(openJobs - differ, 'would stay as it is', 'would stay as they are'),
  ].filter((words) => words !== '');
  return `Of ${openJobs === 1 ? 'the one open job' : `${openJobs} open jobs`}, ${said.join('; ')}.`;
}

function countWords(count: number, words: string, ofSeveral = words): string {
  if (count === 0) return '';
  return `${count} ${count === 1 ? words : ofSeveral}`;
}
