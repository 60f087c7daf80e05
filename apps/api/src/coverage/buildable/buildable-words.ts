import type { BuildableQuery, BuildableType, LackingPart } from '@corewright/contracts/buildable';

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
