import type { Acceptance, CoreSuggested } from '@corewright/contracts/acceptance';
import { sayMoney } from '../../ui/say-money.js';

type Judged = CoreSuggested['least'];

function sayJudged({ grade, credit, kept }: Judged, currency: string): string {
  const words = [grade === null ? 'no grade' : `grade ${grade}`, `${kept} %`];
  if (credit !== null) words.push(sayMoney(credit, currency));
  return words.join(', ');
}

/** What a sheet suggests: "grade C, 65 %, £130.00; provisional …". */
export function saySuggested({ least, most, notLookedAt }: CoreSuggested, currency: string): string {
  const said = sayJudged(least, currency);
  if (notLookedAt === 0) return said;
  const range = `up to ${sayJudged(most, currency)} if it is all good`;
  return `${said}; provisional, for ${notLookedAt} ${notLookedAt === 1 ? 'was' : 'were'} not looked at: ${range}`;
}

export function sayDecision({ decision, currency }: Acceptance): string {
  if (decision === null) return 'not decided yet';
  const credit = decision.credit === null ? '' : `, ${sayMoney(decision.credit, currency)}`;
  const why = decision.why === '' ? '' : `, because: ${decision.why}`;
  return `grade ${decision.grade}${credit}, by ${decision.by}${why}`;
}
