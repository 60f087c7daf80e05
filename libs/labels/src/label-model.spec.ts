import { makeCode } from '@corewright/codes/label-code';
import { commandLabel, componentLabel, jobLabel, lotLabel, placeLabel, unitTags, unsortedLabel } from './label-model.js';

describe('what a label says', () => {
  it('gives a unit two tags that differ in their copy note only', () => {
    const [casing, paperwork] = unitTags({
      code: makeCode('U', 412),
      title: 'Overhead-worm axle',
      grade: 'C',
      owner: 'R. Sandiman',
      marks: 'WD7 4?18',
    });
    expect(casing).toMatchObject({
      corner: '1 of 2, casing',
      facts: ['not weighed', 'owner R. Sandiman'],
      footer: ['marks WD7 4?18'],
    });
    expect(paperwork).toEqual({ ...casing, corner: '2 of 2, paperwork' });
  });

  it('says what is not known instead of leaving a gap', () => {
    const [casing] = unitTags({ code: makeCode('U', 1), title: 'Gearbox' });
    expect(casing).toMatchObject({ facts: ['not weighed', 'ours'], footer: ['no marks read'] });
    expect(casing).not.toHaveProperty('badge');
    expect(lotLabel({ code: makeCode('L', 1), title: 'Lock tab' })).toMatchObject({ corner: 'no place yet' });
    expect(unsortedLabel({ code: makeCode('X', 1), words: 'keys' })).toMatchObject({
      subtitle: 'not counted',
      title: 'Unsorted: keys',
    });
    expect(jobLabel({ code: makeCode('J', 1), title: 'Rebuild' })).toMatchObject({
      subtitle: 'no unit yet',
      facts: ['for stock'],
    });
  });

  it('prints the packet date as it was read', () => {
    const label = lotLabel({
      code: makeCode('L', 847),
      title: 'Gasket set',
      quantity: '2 each',
      packet: '3/53, sealed',
      notes: ['inspect'],
    });
    expect(label.footer).toEqual(['2 each', 'packet 3/53, sealed', 'inspect']);
  });

  it('says of which unit a component is', () => {
    const label = componentLabel({
      code: makeCode('C', 1176),
      unit: makeCode('U', 412),
      number: 3,
      count: 9,
      title: 'Worm wheel',
    });
    expect(label.subtitle).toBe('U 000412 21, 3 of 9');
  });

  it('counts photographs in words', () => {
    const of = (photographCount: number) => unsortedLabel({ code: makeCode('X', 1), words: 'keys', photographCount }).facts;
    expect([of(0), of(1), of(4)]).toEqual([['no photograph'], ['photograph 1'], ['photographs 1 to 4']]);
  });

  it('makes the name of a place and of a command prominent', () => {
    expect(placeLabel({ code: makeCode('P', 312), name: 'R3 B13', path: 'stores, rack 3' })).toMatchObject({
      prominent: true,
      subtitle: 'stores, rack 3',
    });
    expect(commandLabel({ code: makeCode('K', 1), command: 'Fit' })).toEqual({
      code: makeCode('K', 1),
      corner: 'command',
      title: 'Fit',
      prominent: true,
    });
  });
});
