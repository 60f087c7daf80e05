import { readPacketDate } from '@corewright/quantities/packet-date';
import { addDays, addYears } from '@corewright/quantities/plain-date';
import { polymers, rubberKind, storagePeriods } from '@corewright/standards/rubber-groups';
import { inspectionExtends, type StoredPart, storageState } from '@corewright/standards/storage-life';
import fc from 'fast-check';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

/**
 * polymer, group, first period and extension in years by ISO 2230; years by SAE ARP5316. Both as suppliers restate them:
 * globaloring.com, prepol.com, daemar.com. The standards themselves were not at hand.
 */
const published: readonly [string, 'A' | 'B' | 'C' | null, number | null, number | null, number | 'unlimited' | null][] = [
  ['NR', 'A', 5, 2, 3], // ARP5316 figure from memory
  ['IR', 'A', 5, 2, null],
  ['BR', 'A', 5, 2, null],
  ['SBR', 'A', 5, 2, 3], // sources conflict: one supplier has SBR among what keeps for 15 years
  ['AU', 'A', 5, 2, 5],
  ['EU', 'A', 5, 2, 5],
  ['NBR', 'B', 7, 3, 15],
  ['XNBR', 'B', 7, 3, 15],
  ['HNBR', 'B', 7, 3, 15],
  ['CR', 'B', 7, 3, 15],
  ['IIR', 'B', 7, 3, 'unlimited'], // where the two standards differ most
  ['BIIR', 'B', 7, 3, null],
  ['CIIR', 'B', 7, 3, null],
  ['ACM', 'B', 7, 3, 15], // one source only
  ['ECO', 'B', 7, 3, null], // one source only; another gives no figure
  ['CSM', 'C', 10, 5, null],
  ['CM', 'C', 10, 5, null],
  ['EPM', 'C', 10, 5, 'unlimited'],
  ['EPDM', 'C', 10, 5, 'unlimited'],
  ['FKM', 'C', 10, 5, 'unlimited'],
  ['FFKM', 'C', 10, 5, 'unlimited'],
  ['VMQ', 'C', 10, 5, 'unlimited'],
  ['FVMQ', 'C', 10, 5, 'unlimited'],
  ['AEM', null, null, null, 15],
  ['FEPM', null, null, null, 'unlimited'],
];

const today = '2026-11-24';

function packet(asRead: string): StoredPart['packetDate'] {
  const read = readPacketDate(asRead, { material: 'rubber', today });
  if (!read.ok) throw new Error(read.error.sentence);
  return read.value;
}

function seal(asRead: string, facts: Partial<StoredPart> = {}): StoredPart {
  return {
    material: 'rubber',
    polymer: 'NBR',
    packetDate: packet(asRead),
    packetCondition: 'sealed',
    inspectedOn: null,
    ...facts,
  };
}

describe('storage life of rubber by ISO 2230, as suppliers restate it', () => {
  it.each(published.filter(([, group]) => group !== null))(
    '%s is of group %s: %i years, and %i more when inspected',
    (polymer, group, first, extension) => {
      expect(rubberKind(polymer)?.group).toBe(group);
      expect(group && storagePeriods[group]).toEqual({ firstYears: first, extensionYears: extension });
      const part = seal('1 Feb 2000', { polymer });
      expect(storageState(part, addDays(addYears('2000-02-01', first ?? 0), -1)).state).toBe('in-life');
      expect(storageState(part, addYears('2000-02-01', first ?? 0)).state).toBe('extendable');
      expect(storageState(part, addDays(addYears('2000-02-01', (first ?? 0) + (extension ?? 0)), -1)).state).toBe('extendable');
      expect(storageState(part, addYears('2000-02-01', (first ?? 0) + (extension ?? 0))).state).toBe('past');
    },
  );

  it('knows the published kinds and no others', () => {
    expect([...polymers].sort()).toEqual(published.map(([polymer]) => polymer).sort());
  });

  it('keeps to ISO 2230 where SAE ARP5316 is shorter (natural rubber and SBR) as where it is longer', () => {
    const shorter = published.filter(
      ([, group, , , arp]) => group !== null && typeof arp === 'number' && arp < storagePeriods[group].firstYears,
    );
    expect(shorter.map(([polymer]) => polymer)).toEqual(['NR', 'SBR']);
    expect(storageState(seal('1 Feb 2000', { polymer: 'SBR' }), '2004-06-01').state).toBe('in-life');
  });

  it.each([null, '', 'AEM', 'FEPM', 'QQX'])(
    'counts the shortest period, 5 years, for rubber "%s" that has no group, and gives it no extension',
    (polymer) => {
      expect(storageState(seal('1 Feb 2000', { polymer }), '2005-01-31').state).toBe('in-life');
      const life = storageState(seal('1 Feb 2000', { polymer, inspectedOn: '2005-02-01' }), '2005-02-01');
      expect(life).toMatchObject({ state: 'past', group: 'A', since: '2005-02-01', until: null, longestExtensionEndsOn: null });
      expect(life.reasons.join(' ')).toMatch(/so the shortest period counts: 5 years/);
      expect(inspectionExtends(seal('1 Feb 2000', { polymer }), '2005-02-01')).toMatchObject({
        ok: false,
        error: { code: 'no-extension' },
      });
    },
  );
});

describe('the least favourable reading', () => {
  it('has nitrile marked 3/94 packed on 1 July 1994, past since 2001, and past its longest extension since 2004', () => {
    expect(storageState(seal('3/94'), today)).toEqual({
      state: 'past',
      stopsFitting: true,
      since: '2001-07-01',
      until: null,
      group: 'B',
      packedOn: '1994-07-01',
      firstPeriodEndsOn: '2001-07-01',
      longestExtensionEndsOn: '2004-07-01',
      reasons: [
        'The packet says "3/94": at worst packed on 1 July 1994.',
        'Nitrile (NBR): 7 years from packing (ISO 2230, group B).',
        'Past since 1 July 2001, and past the longest extension, 1 July 2004.',
      ],
    });
  });

  it('takes 1 January where only the year is known', () => {
    expect(storageState(seal('2025'), today)).toMatchObject({
      state: 'in-life',
      stopsFitting: false,
      until: '2032-01-01',
      since: null,
    });
    expect(storageState(seal('Jan 2025'), today).reasons).toContain('In life to 1 January 2032.');
  });

  it('counts rubber without a date as past its life, and says that the date is unknown', () => {
    const life = storageState(seal('?'), today);
    expect(life).toMatchObject({ state: 'unknown', stopsFitting: true, since: null, until: null });
    expect(life.reasons[0]).toMatch(/^Unknown date\. .* counts as past its life\.$/);
  });

  it.each(['felt', 'leather', 'paper', 'cork', 'metal', 'other'] as const)(
    'has no limit for %s, however old or undated, but an inspection note',
    (material) => {
      for (const date of ['1949', 'unknown']) {
        const life = storageState(seal(date, { material, polymer: null }), today);
        expect(life).toMatchObject({ state: 'no-limit', stopsFitting: false, since: null, until: null });
        expect(life.reasons.join(' ')).toMatch(/look for|inspect before/);
      }
    },
  );

  it('has no limit for PTFE, which is no rubber (ARP5316: unlimited)', () => {
    expect(storageState(seal('1949', { polymer: 'ptfe' }), today)).toMatchObject({ state: 'no-limit', stopsFitting: false });
  });

  it('extends by an inspection made after the first period, to a fixed day, and not by one made too early or too late', () => {
    const inspected = (inspectedOn: string, onDate: string) => storageState(seal('3/94', { inspectedOn }), onDate);
    expect(inspected('2002-03-01', '2003-01-01')).toMatchObject({ state: 'in-life', stopsFitting: false, until: '2004-07-01' });
    expect(inspected('2001-07-01', '2001-07-01')).toMatchObject({ state: 'in-life', until: '2004-07-01' });
    expect(inspected('1998-06-30', '2001-07-01')).toMatchObject({ state: 'extendable', stopsFitting: true, since: '2001-07-01' });
    expect(inspected('2002-03-01', '2002-02-28')).toMatchObject({ state: 'extendable' });
    expect(inspected('2002-03-01', '2004-07-01')).toMatchObject({ state: 'past', since: '2004-07-01' });
    expect(inspected('2010-01-01', today)).toMatchObject({ state: 'past', since: '2001-07-01' });
  });

  it('counts the extension from the inspection where that was made within the first period, never past the fixed day', () => {
    const inspected = (onDate: string) => storageState(seal('3/94', { inspectedOn: '2000-09-10' }), onDate);
    expect(inspected('2000-12-01')).toMatchObject({ state: 'in-life', until: '2003-09-10' });
    expect(inspected('2003-09-09')).toMatchObject({ state: 'in-life', stopsFitting: false, until: '2003-09-10' });
    expect(inspected('2003-09-10')).toMatchObject({ state: 'past', stopsFitting: true, since: '2003-09-10', until: null });
  });

  it.each(['opened', 're-boxed', 'none'] as const)(
    'says that the period presumes a closed packet when it is "%s"',
    (packetCondition) => {
      const life = storageState(seal('2025', { packetCondition }), today);
      expect(life.state).toBe('in-life');
      expect(life.reasons.at(-1)).toMatch(/the period presumes rubber kept closed/);
    },
  );

  it('never says that something is safe', () => {
    const every = ['3/94', '2025', '?'].flatMap((date) => storageState(seal(date), today).reasons);
    expect(every.join(' ')).not.toMatch(/safe/i);
  });

  it('never favours: an earlier packing day, a later day of use or an unknown kind never makes a part better', () => {
    const ranks = { 'in-life': 0, extendable: 1, past: 2, unknown: 3, 'no-limit': 4 };
    const rankOf = (packedOn: string, polymer: string | null, onDate: string) =>
      ranks[
        storageState(seal('?', { polymer, packetDate: { asRead: packedOn, earliest: packedOn, latest: packedOn } }), onDate).state
      ];
    const days = fc.integer({ min: 0, max: 30_000 });
    fc.assert(
      fc.property(days, days, fc.nat(4000), fc.constantFrom(...polymers), (packed, used, more, polymer) => {
        const [packedOn, onDate] = [addDays('1940-01-01', packed), addDays('1940-01-01', packed + (used % 8000))];
        const rank = rankOf(packedOn, polymer, onDate);
        expect(rankOf(addDays(packedOn, -more), polymer, onDate)).toBeGreaterThanOrEqual(rank);
        expect(rankOf(packedOn, polymer, addDays(onDate, more))).toBeGreaterThanOrEqual(rank);
        expect(rankOf(packedOn, null, onDate)).toBeGreaterThanOrEqual(rank);
      }),
      { numRuns: 500 },
    );
  });
});

describe('an inspection for the extension by ISO 2230, as suppliers restate it: once, by the years of its group', () => {
  it.each(published.filter(([, group]) => group !== null))(
    '%s, group %s: %i years and then %i',
    (polymer, _group, first, extension) => {
      const part = seal('1 Feb 2000', { polymer });
      const [firstEnd, lastEnd] = [addYears('2000-02-01', first ?? 0), addYears('2000-02-01', (first ?? 0) + (extension ?? 0))];
      expect(inspectionExtends(part, firstEnd)).toEqual({ ok: true, value: { extendsTo: lastEnd } });
      expect(inspectionExtends(part, addDays(lastEnd, -1))).toEqual({ ok: true, value: { extendsTo: lastEnd } });
      expect(inspectionExtends(part, lastEnd)).toMatchObject({ ok: false, error: { code: 'past-extension' } });
      expect(inspectionExtends({ ...part, inspectedOn: firstEnd }, addDays(firstEnd, 1))).toMatchObject({
        ok: false,
        error: { code: 'extended-already' },
      });
    },
  );

  it('is refused for rubber without a date, before it was packed, and where it would be over before the first period is', () => {
    expect(inspectionExtends(seal('?'), today)).toMatchObject({ ok: false, error: { code: 'undated' } });
    expect(inspectionExtends(seal('2025'), '2024-12-31')).toMatchObject({ ok: false, error: { code: 'before-packing' } });
    expect(inspectionExtends(seal('2025'), today)).toMatchObject({ ok: false, error: { code: 'too-early' } });
  });

  it.each(['felt', 'leather', 'paper', 'cork', 'metal'] as const)('is a note on %s, which has no limit', (material) => {
    expect(inspectionExtends(seal('?', { material, polymer: null }), today)).toEqual({ ok: true, value: { extendsTo: null } });
  });

  it('agrees with the state: what it gives is what the state then says, and what it refuses leaves the state as it was', () => {
    const days = fc.integer({ min: 0, max: 9000 });
    fc.assert(
      fc.property(days, days, fc.constantFrom(null, ...polymers), (inspected, used, polymer) => {
        const part = seal('3/94', { polymer });
        const [inspectedOn, onDate] = [addDays('1994-07-01', inspected), addDays('1994-07-01', used)];
        const given = inspectionExtends(part, inspectedOn);
        const life = storageState({ ...part, inspectedOn }, onDate);
        if (!given.ok) expect(life).toEqual(storageState(part, onDate));
        else if (inspectedOn <= onDate) expect(life.stopsFitting).toBe(onDate >= given.value.extendsTo!);
      }),
      { numRuns: 1000 },
    );
  });
});
