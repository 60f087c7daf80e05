import type { JobKit, KitWait } from '@corewright/contracts/pick-list';
import { labelStocks } from '@corewright/labels/label-stock';
import { labelScene } from '../../labels/pdf/label-pdf.js';
import { type TrayLabel, trayLabel } from './tray-label.js';

const part = (name: string) => ({ id: name, name, number: '', maker: '' });
const wait = (lineNo: number, name: string, quantity = '1'): KitWait => ({
  lineId: String(lineNo),
  lineNo,
  quantity,
  part: part(name),
  unitOfMeasure: 'each',
  state: 'lacking',
  thing: null,
  words: '',
});
const kit = (waits: KitWait[]): JobKit => ({
  id: 'job',
  code: 'J00000741',
  name: 'Rebuild for Mr Penhale',
  state: 'building',
  tray: { id: 'tray', code: 'P00000112', name: 'Tray 7' },
  kit: 'partly kitted',
  sums: [
    {
      unitOfMeasure: 'each',
      needed: '20',
      shares: [
        { state: 'in the unit', quantity: '4' },
        { state: 'in the tray', quantity: '5' },
      ],
    },
    { unitOfMeasure: 'm', needed: '1.2', shares: [{ state: 'in the unit', quantity: '1.2' }] },
  ],
  waits,
  offers: [],
  taken: [],
});
const label = (waits: KitWait[]): TrayLabel => ({
  kit: kit(waits),
  stops: [],
  unit: 'Brantock WD7',
  now: { date: '2026-11-27', minuteOfDay: 14 * 60 + 5 },
});

describe('the label of a tray', () => {
  it('says the job, the unit, how many of what is wanted are in, when it was printed, and what is missing', () => {
    const model = trayLabel(label([wait(4, 'Oil seal', '2'), wait(2, 'Shim')]), labelStocks['tag-100x50'], 300);
    expect(model).toMatchObject({
      code: 'J00000741',
      corner: '27 Nov 2026 14:05',
      title: 'Rebuild for Mr Penhale',
      subtitle: 'Brantock WD7 · Tray 7',
      facts: ['5 of 16 in'],
      footer: ['1 Shim', '2 Oil seal'],
    });
  });

  it.each(['tag-100x50', 'label-50x30', 'sheet-a4-24'] as const)('counts on %s those for which there is no room', (id) => {
    const waits = Array.from({ length: 30 }, (_, index) => wait(index + 1, `Taper roller bearing ${index + 1}`));
    const model = trayLabel(label(waits), labelStocks[id], 203);
    const shown = model.footer!.length - 1;
    expect(shown).toBeGreaterThan(0);
    expect(model.footer!.at(-1)).toBe(`and ${30 - shown} more`);
    expect(labelScene(model, labelStocks[id], 203).shortened).not.toContain('footer');
  });

  it('counts all of them where not even one has room', () => {
    const model = trayLabel(
      label([wait(1, 'Crown wheel and pinion, matched, '.repeat(6)), wait(2, 'Shim')]),
      labelStocks['label-50x30'],
      203,
    );
    expect(model.footer).toEqual(['2 lines are missing']);
  });

  it('says so where nothing is missing', () => {
    expect(trayLabel(label([]), labelStocks['label-50x30'], 203).footer).toEqual(['nothing is missing']);
  });
});
