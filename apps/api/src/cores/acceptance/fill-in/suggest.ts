import type { AcceptanceTerms, CoreSuggested, FillInAcceptance } from '@corewright/contracts/acceptance';
import { type CoreAnswer, type CoreJudged, judgeCore } from '@corewright/costing/judge-core';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { formatMoney, moneyFrom } from '@corewright/quantities/money';
import { badInput, done, type Result, refused } from '../../../platform/refusal.js';

type Asked = Pick<AcceptanceTerms, 'points' | 'components' | 'fullCredit' | 'currency'>;
type Answers = Pick<FillInAcceptance, 'points' | 'components'>;

/** What a sheet that was filled in suggests. What is answered twice, or was not asked, is refused; what is not answered was not looked at. */
export function suggest(asked: Asked, answers: Answers, grades: readonly string[]): Result<CoreSuggested> {
  const points = new Map<string, CoreAnswer>();
  for (const [index, { point, answer }] of answers.points.entries()) {
    if (points.has(point)) return refused(badInput(`points.${index}`, 'This point is answered twice. Answer it once.'));
    points.set(point, answer);
  }
  const components = new Map<number, CoreAnswer>();
  for (const [index, { position, answer }] of answers.components.entries()) {
    if (components.has(position))
      return refused(badInput(`components.${index}`, 'This component is answered twice. Answer it once.'));
    if (!asked.components.some((component) => component.position === position))
      return refused(badInput(`components.${index}`, `Component ${position} is not asked for. Leave it out.`));
    components.set(position, answer);
  }
  const { currency } = asked;
  const { least, most, notLookedAt } = judgeCore(
    {
      shares: asked.components.map(({ share }) => decimalFrom(share)),
      fullCredit: asked.fullCredit === null ? null : moneyFrom(asked.fullCredit, currency),
      grades,
    },
    {
      points: asked.points.map(({ point }) => points.get(point) ?? 'not looked at'),
      components: asked.components.map(({ position }) => components.get(position) ?? 'not looked at'),
    },
  );
  return done({ least: shown(least, currency), most: shown(most, currency), notLookedAt });
}

function shown({ kept, grade, credit }: CoreJudged, currency: string): CoreSuggested['least'] {
  return { kept: formatDecimal(kept), grade, credit: credit === null ? null : formatMoney(credit, currency) };
}
