import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { BuildableQuery, BuildableType, LackingPart, OnDonors } from '@corewright/contracts/buildable';

/** More than anybody reads in a sentence; the table beside it has all of them. */
const namedMax = 4;

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function lackingWords({ part, quantity, unitOfMeasure }: LackingPart): string {
  const amount = unitOfMeasure === 'each' ? quantity : `${quantity} ${unitOfMeasure}`;
  return `${amount} of ${part.number === '' ? part.name : `${part.number}, ${part.name}`}`;
}

/** Why it is so many and no more. */
export function typeWords({ unitType, cores, builds, lacking }: Omit<BuildableType, 'words'>): string {
  const can = `${builds} of ${unitType.name} can be built, with ${counted(cores, 'free core', 'free cores')}.`;
  const wanting = [
    ...(lacking.cores > 0 ? [counted(lacking.cores, 'core', 'cores')] : []),
    ...lacking.parts.slice(0, namedMax).map(lackingWords),
  ];
  const further = lacking.parts.length - namedMax;
  const more = further > 0 ? ` and ${counted(further, 'further part', 'further parts')}` : '';
  return wanting.length === 0 ? can : `${can} The next one lacks ${wanting.join('; ')}${more}.`;
}

export function wholeWords(total: number, types: number, { own, lines }: BuildableQuery): string {
  if (types === 0) return 'No unit type with a parts list has a free core.';
  const from = own === 'used again' ? 'what may be used again comes out of the core itself' : 'every part comes out of stores';
  const which = lines === 'all' ? 'all lines of the parts lists' : 'the critical lines alone';
  return `${total} in all, at the most, of what is free now; ${from}; ${which}.`;
}

interface DonorFacts extends Omit<OnDonors, 'words'> {
  total: number;
  /** a core in the yard surely gives something that is asked for */
  hasDonors: boolean;
  /** why the build standard takes nothing of them; null where it does */
  barred: string | null;
}

/** On which cores the plan rests that nobody has opened. */
export function donorWords({ resting, broken, total, hasDonors, barred }: DonorFacts): string {
  if (barred !== null) return `Nothing is counted on from cores: this build standard ${barred}.`;
  if (!hasDonors)
    return 'No core in the yard surely gives anything that is asked for: there is none that is whole and free, or too few of its kind were looked at when they were taken apart.';
  if (resting === 0) return 'None of them rests on a core that would be broken.';
  const codes = broken.flatMap(({ units }) => units.map(({ code }) => formatCode(code as LabelCode)));
  const rest =
    resting === total
      ? total === 1
        ? 'It rests'
        : `All ${total} rest`
      : `${resting} of the ${total} ${resting === 1 ? 'rests' : 'rest'}`;
  return `${rest} on ${counted(codes.length, 'core', 'cores')} not yet stripped: ${codes.join(', ')}.`;
}
