import { keyedOf, noSettingsKeyed, settingsSent } from './settings-keyed.js';

const keyed = { ...noSettingsKeyed, container: ' tin 1 l ', keepsDays: '90', usesPerContainer: '20' };

describe('how a part goes by the container, as it is keyed', () => {
  it('is sent by use, with nothing of what is flat', () => {
    expect(settingsSent({ ...keyed, flatForAll: '4', flatFrom: '2026-01-01' })).toEqual({
      sent: {
        container: 'tin 1 l',
        keepsDays: 90,
        oneAtATime: true,
        charged: 'by use',
        useAmount: '',
        usesPerContainer: 20,
        flat: [],
        flatFrom: null,
      },
    });
  });

  it('is sent flat, with nothing of a use and no empty row', () => {
    const flat = {
      ...keyed,
      charged: 'flat',
      flatForAll: '4',
      flatByType: [
        { unitTypeId: 'a', amount: '9' },
        { unitTypeId: '', amount: '1' },
        { unitTypeId: 'b', amount: ' ' },
      ],
    } as const;
    expect(settingsSent(flat)).toMatchObject({
      sent: {
        usesPerContainer: null,
        flat: [
          { unitTypeId: null, amount: '4' },
          { unitTypeId: 'a', amount: '9' },
        ],
        flatFrom: null,
      },
    });
  });

  it.each([
    ['container', { container: ' ' }],
    ['keepsDays', { keepsDays: '0' }],
    ['keepsDays', { keepsDays: '1.5' }],
    ['usesPerContainer', { usesPerContainer: 'about 20' }],
  ] as const)('is not sent where %s is at fault', (fault, more) => {
    expect(settingsSent({ ...keyed, ...more })).toEqual({ fault });
  });

  it('comes back as it was sent', () => {
    const settings = {
      part: { id: 'p', name: 'Sealant', number: '' },
      container: 'tin 1 l',
      keepsDays: null,
      oneAtATime: false,
      charged: 'flat' as const,
      currency: 'GBP',
      useAmount: null,
      usesPerContainer: null,
      flat: [
        { unitType: null, amount: '4.00', from: '2026-01-01' },
        { unitType: { id: 'a', name: 'WD7' }, amount: '9.00', from: '2026-01-01' },
      ],
      version: 3,
    };
    expect(settingsSent(keyedOf(settings))).toMatchObject({
      sent: {
        keepsDays: null,
        oneAtATime: false,
        flat: [
          { unitTypeId: null, amount: '4.00' },
          { unitTypeId: 'a', amount: '9.00' },
        ],
        flatFrom: '2026-01-01',
      },
    });
  });
});
