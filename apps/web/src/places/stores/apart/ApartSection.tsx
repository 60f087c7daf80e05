import type { StandsApart } from '@corewright/contracts/goods-apart';
import type { Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { Go } from '../../../ui/Go.js';
import { Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayDay, sayInstant } from '../../../ui/say-when.js';
import { Timeline, type TimelineEntry } from '../../../ui/Timeline.js';
import { standsApartQuery } from './apart-queries.js';

/** Why a thing stands apart from stock, and how it came to that; nothing where it never did. */
export function ApartSection({ thing }: { readonly thing: Thing }) {
  const { data: apart } = useQuery(standsApartQuery(thing.id));
  if (apart === undefined) return null;
  const entries = entriesOf(apart);
  if (entries.length === 0 && apart.heldBack === null && apart.kept === null) return null;
  return (
    <Section title="Apart from stock" aside="newest first">
      <Standing apart={apart} />
      <Timeline label="Apart from stock" entries={entries} />
    </Section>
  );
}

function Standing({ apart: { heldBack, kept, inQuarantine, quarantinePlaces } }: { readonly apart: StandsApart }) {
  return (
    <>
      {kept !== null && (
        <p>
          <b>{kept.kind === 'found property' ? 'Found property' : `Kept for its owner, ${kept.kind}`}</b>, since{' '}
          {sayDay(kept.since)}; look again on {sayDay(kept.lookAgainOn)}.{' '}
          <Go href="/stores/kept-for-owners">What was said stands here</Go>
        </p>
      )}
      {heldBack !== null && kept === null && (
        <p>
          Held back since {sayInstant(heldBack.since, new Date())}. It may be lifted by {heldBack.mayLiftWords}
          {heldBack.lookAgainOn !== null && `; look again on ${sayDay(heldBack.lookAgainOn)}`}.
        </p>
      )}
      {heldBack !== null && !inQuarantine && quarantinePlaces.length > 0 && (
        <p className="quiet">
          It does not lie in quarantine. Put it away in {quarantinePlaces.map(({ name }) => name).join(' or ')}, so that its place
          says the same.
        </p>
      )}
      {heldBack === null && inQuarantine && (
        <p className="quiet">It lies in quarantine and is not held back: hold it back, or put it away elsewhere.</p>
      )}
    </>
  );
}

function entriesOf({ holdChanges, condemnation, ownerChanges }: StandsApart): TimelineEntry[] {
  const now = new Date();
  const dated: { at: string; id: string; words: ReactNode }[] = [
    ...holdChanges.map((change) => ({
      at: change.at,
      id: change.id,
      words: (
        <>
          {change.held ? 'held back' : 'hold lifted'}: {change.reason}{' '}
          <span className="quiet">
            {change.by}
            {change.mayLift !== '' && `; ${change.mayLift} may lift it`}
            {change.lookAgainOn !== null && `; look again on ${sayDay(change.lookAgainOn)}`}
          </span>
        </>
      ),
    })),
    ...(condemnation === null || condemnation.at === null
      ? []
      : [
          {
            at: condemnation.at,
            id: 'condemned',
            words: (
              <>
                <b>condemned</b>: {condemnation.reason}{' '}
                <span className="quiet">
                  {condemnation.by}
                  {condemnation.noPicture !== '' && `; no photograph: ${condemnation.noPicture}`}
                </span>
              </>
            ),
          },
        ]),
    ...(condemnation?.disposals ?? []).map((disposal) => ({
      at: disposal.at,
      id: disposal.id,
      words: (
        <>
          <b>{disposal.how}</b>: {disposal.words}
          {disposal.ownersWord !== '' && `; the owner’s word: ${disposal.ownersWord}`}{' '}
          <span className="quiet">{disposal.by}</span>
        </>
      ),
    })),
    ...ownerChanges.map((change) => ({
      at: change.at,
      id: change.id,
      words: (
        <>
          {change.how}, from <b>{change.from}</b> to <b>{change.to}</b>
          {change.price !== null && change.currency !== null && `, ${sayMoney(change.price, change.currency)}`}, on{' '}
          {sayDay(change.on)}: {change.words} <span className="quiet">{change.by}</span>
        </>
      ),
    })),
  ];
  return dated
    .toSorted((one, other) => (one.at < other.at ? 1 : one.at > other.at ? -1 : 0))
    .map(({ at, id, words }) => ({ id, words, when: sayInstant(at, now) }));
}
