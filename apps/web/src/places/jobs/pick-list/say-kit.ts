import type { JobKit, KitState, KitSum, KitWait } from '@corewright/contracts/pick-list';

const WORDS: Readonly<Record<KitState, string>> = {
  'in the unit': 'in the unit',
  'in the tray': 'in the tray',
  'to fetch': 'to fetch',
  offered: 'only as another part',
  'not yet looked at': 'of its own not yet looked at',
  'at an outworker': 'at an outworker',
  'on order': 'on order',
  'from a core': 'from a core',
  'out of reach': 'out of reach',
  lacking: 'lacking',
};

/** A quantity with its unit; pieces need none. */
export function sayQuantity(quantity: string, unitOfMeasure: string): string {
  return unitOfMeasure === 'each' ? quantity : `${quantity} ${unitOfMeasure}`;
}

/** "14 of 20 in the tray; 3 to fetch; 2 on order; 1 lacking": how all that is counted in one unit of measure stands. */
export function sayKitSum({ unitOfMeasure, needed, shares }: KitSum): string {
  const inTray = shares.find(({ state }) => state === 'in the tray')?.quantity ?? 'none';
  const others = shares
    .filter(({ state }) => state !== 'in the tray')
    .toSorted((one, other) => Number(one.state === 'in the unit') - Number(other.state === 'in the unit'));
  return [
    `${inTray} of ${sayQuantity(needed, unitOfMeasure)} in the tray`,
    ...others.map(({ state, quantity }) => `${sayQuantity(quantity, unitOfMeasure)} ${WORDS[state]}`),
  ].join('; ');
}

/** How a whole job stands, in one sentence. */
export function sayKit({ sums }: Pick<JobKit, 'sums'>): string {
  return sums.length === 0 ? 'No line asks for anything.' : sums.map((sum) => `${capital(sayKitSum(sum))}.`).join(' ');
}

function capital(sentence: string): string {
  return sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
}

/** "2 on order: order 71, …" */
export function sayWait({ quantity, unitOfMeasure, state, words }: KitWait): string {
  const said = `${sayQuantity(quantity, unitOfMeasure)} ${WORDS[state]}`;
  return words === '' ? said : `${said}: ${words}`;
}
