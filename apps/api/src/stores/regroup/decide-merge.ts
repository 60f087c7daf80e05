import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import { done, type Result, refused } from '../../platform/refusal.js';

/** One fact of a lot: by its key it is the same as another's or not, in its words it is said. */
export interface LotFact {
  what: string;
  key: string;
  shown: string;
}

/** One of two lots that are said to be the same. */
export interface ToMerge {
  code: LabelCode;
  isLot: boolean;
  isNamed: boolean;
  isMissing: boolean;
  isOfKeptSet: boolean;
  /** found property, or what waits for its owner */
  isKeptForOwner: boolean;
  /** a container that somebody has opened */
  isOpen: boolean;
  /** each once, in the same order for every lot */
  facts: readonly LotFact[];
  /** where some of it is that no place of the stores holds: "in Tray 7", "with Strake Grinding" */
  elsewhere: readonly string[];
  /** whether any of it lies in a place */
  isHere: boolean;
}

/** Whether a lot may become part of another: the two are the same by all that the books say, and all of the one lies in stores. */
export function decideMerge(goes: ToMerge, stays: ToMerge): Result<null> {
  const [one, other] = [formatCode(goes.code), formatCode(stays.code)];
  if (!goes.isLot || !stays.isLot)
    return stopped(
      'not-a-lot',
      'Not two lots',
      'A unit, a component and a box each have an identity of their own. Only lots become one.',
    );
  for (const lot of [goes, stays]) {
    const label = formatCode(lot.code);
    if (lot.isMissing)
      return stopped(
        'missing',
        'One is missing',
        `Somebody looked for ${label} in vain. Say where it is first, then make the two one.`,
      );
    if (lot.isOfKeptSet)
      return stopped(
        'of-a-kept-set',
        'One belongs to a set',
        `${label} stays together with others for good. Break that set first, by name.`,
      );
    if (lot.isKeptForOwner)
      return stopped(
        'kept-for-owner',
        'One is kept for its owner',
        `${label} is kept for its owner until that is ended on its page.`,
      );
    if (lot.isOpen)
      return stopped(
        'open-container',
        'One is open',
        `${label} is an open container with a use-by date of its own, and stays one.`,
      );
    if (!lot.isNamed)
      return stopped(
        'not-named',
        'Nobody has named it',
        `Nobody has said which part ${label} is, so it may be another. Name it first.`,
      );
  }
  const differing = differences(goes.facts, stays.facts);
  if (differing.length > 0)
    return refused({
      status: 409,
      code: 'facts-differ',
      title: 'They are not the same',
      detail: `${one} and ${other} differ: ${differing.map(({ what, one: a, other: b }) => `${what}, ${a} against ${b}`).join('; ')}. Put right what was read wrongly, or leave them apart. Nothing was changed.`,
      values: { differing },
    });
  if (goes.elsewhere.length > 0)
    return stopped(
      'not-all-here',
      'Not all of it is here',
      `Some of ${one} is ${goes.elsewhere.join(' and ')}, and stays under the label that it has. ${stays.elsewhere.length === 0 ? `Make ${other} part of ${one} instead: look at ${other}, and scan ${one} there.` : 'Take that back first.'}`,
    );
  if (!goes.isHere)
    return stopped(
      'none-left',
      'Nothing of it is here',
      `By the books nothing of ${one} lies in stores, so there is nothing to put together.`,
    );
  return done(null);
}

/** Exactly the facts that differ, each with what either lot says. */
export function differences(one: readonly LotFact[], other: readonly LotFact[]): { what: string; one: string; other: string }[] {
  const others = new Map(other.map((fact) => [fact.what, fact]));
  return one.flatMap((fact) => {
    const against = others.get(fact.what);
    return against === undefined || against.key === fact.key ? [] : [{ what: fact.what, one: fact.shown, other: against.shown }];
  });
}

function stopped(code: string, title: string, words: string): { ok: false; error: Parameters<typeof refused>[0] } {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
