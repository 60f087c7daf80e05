import type { AllocationProblem, Link } from './allocation-problem.js';

/** @throws RangeError for figures that are not whole, or below nought, and for lists of costs that are not of one length */
export function checkFigures({ supplies, demands, links }: AllocationProblem): void {
  for (const { quantity } of supplies) checkFigure(quantity);
  for (const { quantity, level } of demands) {
    checkFigure(quantity);
    checkFigure(level);
  }
  checkCosts(links);
  const wanted = demands.reduce((sum, { quantity }) => sum + quantity, 0);
  if (!Number.isSafeInteger(wanted)) throw new RangeError('The quantities are too large to be summed exactly.');
}

function checkCosts(links: readonly Link[]): void {
  let length: number | null = null;
  for (const { cost } of links) {
    if (isList(cost)) {
      length ??= cost.length;
      if (cost.length !== length) throw new RangeError('A cost has more figures than another.');
    }
    cost.forEach(checkPlaced);
  }
}

// `Array.isArray` does not tell a list that may not be written
function isList(cost: Link['cost']): cost is readonly number[] {
  return Array.isArray(cost);
}

function checkPlaced(figure: number, place: number): void {
  checkFigure(figure);
  checkFigure(place);
}

function checkFigure(figure: number): void {
  if (!Number.isSafeInteger(figure) || figure < 0) throw new RangeError(`Not a whole figure of nought or more: ${figure}.`);
}
