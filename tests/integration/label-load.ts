/** A mixed load of twenty rows as labels: units, lots and unsorted boxes, with the texts that are hard to print. All invented. */
import { type LabelKind, makeCode } from '@corewright/codes/label-code';
import { type LabelModel, lotLabel, unitTags, unsortedLabel } from '@corewright/labels/label-model';

const unit = (serial: number) => makeCode('U', serial);
const lot = (serial: number) => makeCode('L', serial);
const box = (serial: number) => makeCode('X', serial);

/** Each row's labels: two tags for a unit, one label for anything else. */
export const loadRows: LabelModel[][] = [
  unitTags({
    code: unit(412),
    title: 'Overhead-worm axle',
    subtitle: 'Brantock WD7 · 7¾ : 1 · 4/31',
    grade: 'C',
    weight: 'about 186 kg, two to lift',
    owner: 'R. Sandiman',
    marks: 'WD7 4?18',
    notes: ['in 2 Oct 2026', 'drained'],
  }),
  unitTags({
    code: unit(433),
    title: 'Overhead-worm axle',
    subtitle: 'not yet identified · wheel 33 t',
    grade: 'C',
    marks: '?? 7 61',
  }),
  unitTags({
    code: unit(434),
    title: 'Spiral-bevel axle',
    subtitle: 'Dunmarrow S11 · 5.57 : 1 · 39/7',
    grade: 'B',
    weight: '≈ 142 kg',
    marks: 'S11 20944',
    notes: ['load 61', 'in 24 Nov 2026'],
  }),
  unitTags({
    code: unit(999_999),
    title: 'Four-speed gearbox with transfer gear and power take-off, right-hand change, long input shaft',
    subtitle: 'Ostrey-Kell G4/T, series 2, with the brake on the output flange and a speedometer drive',
    grade: 'D minus',
    weight: 'about 240 kg with its crate, crane only',
    owner: 'Straßenbahn- und Ackerschlepperfreunde Äußere Öde',
    marks: '?K 4?T ???1 / Prüf. Ø 112 / „G“ und Krone, gemalt: 17½',
    notes: ['one ear of the casing welded', 'no lid', 'in 24 Nov 2026'],
  }),
  unitTags({ code: unit(1_000_000), title: 'Gearbox', grade: 'A', weight: 'not weighed', marks: '?' }),
  unitTags({
    code: unit(435),
    title: 'Worm carrier',
    subtitle: 'Brantock WD5',
    owner: 'Mary Fenwright',
    warning: 'HELD: crack at the left flange, wait for the crack detection report',
    notes: ['load 61'],
  }),
  unitTags({
    code: unit(436),
    title: 'Differential, four-pinion, from a lorry that stood in a pond since the spring flood of 1953',
    subtitle: 'Pellow',
    warning:
      'NOT FOR SERVICE: kept for patterns and measurement only, ring gear and pinion do not belong together, see the strip report before any part of it is used',
    notes: ['teeth 7/39', 'load 61'],
  }),
  [
    lotLabel({
      code: lot(847),
      title: 'Gasket set, worm carrier, cork',
      number: '48-2290',
      provenance: 'old stock, genuine',
      packet: '1949, sealed',
      notes: ['inspect, no limit'],
    }),
  ],
  [
    lotLabel({
      code: lot(844),
      place: 'quarantine',
      title: 'Oil seal, worm input',
      number: '48-2230',
      provenance: 'old stock, pattern',
      packet: '1/91',
      warning: 'NOT FOR SERVICE: rubber, past life 1 Jul 2001',
    }),
  ],
  [
    lotLabel({
      code: lot(842),
      place: 'R3 B13',
      title: 'Taper bearing cone, 4',
      number: '48-2260/1',
      provenance: 'old stock, Corvane',
      packet: '3/53',
      notes: ['cup is L 000843'],
    }),
  ],
  [
    lotLabel({
      code: lot(843),
      place: 'R3 B13, top tray at the back',
      title: 'Taper bearing cup',
      number: '48-2260/2',
      provenance: 'old stock, Corvane',
      packet: '3/53, opened',
    }),
  ],
  [
    lotLabel({
      code: lot(1_234_567),
      title: 'Lager, Kegelrollen-, für Schneckenwelle, größere Ausführung mit Bund, ungeölt',
      number: '4711-Ä/Ö ?7',
      provenance: 'gebraucht, Herkunft ungeklärt, Kiste Süd',
      packet: 'unknown, re-boxed',
      quantity: '12 each',
      owner: 'Łukasz Żółć',
      notes: ['Größe prüfen', 'nicht für „A“'],
    }),
  ],
  [
    lotLabel({
      code: lot(845),
      place: 'quarantine',
      title: 'Bush, rubber, cab mounting, front, the long pattern with the steel sleeve',
      number: '48-3107',
      provenance: 'old stock, make unknown',
      packet: 'unknown',
      warning: 'NOT FOR SERVICE: rubber without a date, counts as past its life until somebody puts a name to it',
    }),
  ],
  [lotLabel({ code: lot(846), title: 'Shim, 0.127 mm', number: '48-2301/5', quantity: '37 each', provenance: 'made here' })],
  [lotLabel({ code: lot(848), title: 'Lock tab', number: '48-2240', provenance: 'new, Halloran' })],
  [
    lotLabel({
      code: lot(849),
      title: 'Thrust washer, planet, bronze',
      provenance: 'from another unit',
      notes: ['off U 000398'],
    }),
  ],
  [
    lotLabel({
      code: lot(850),
      title: 'Setscrew <3/8" & washer>, both (see note)',
      number: 'S\\38-(7)',
      packet: '12 Mar 1957, sealed',
    }),
  ],
  [
    unsortedLabel({
      code: box(57),
      place: 'bench 1',
      words: 'shims, lock tabs, keys',
      count: 'about 40 pieces',
      load: 'load 61',
      photographCount: 1,
    }),
  ],
  [unsortedLabel({ code: box(58), words: 'Weiß ich nicht: drei Gehäusedeckel, ölig, einer mit „?7“', load: 'load 61' })],
  [
    unsortedLabel({
      code: box(59),
      words: 'box with brass bits and one long splined thing, perhaps a half shaft of a light lorry, perhaps not',
      count: 'one box, half full, not tipped out',
      load: 'load 61',
      photographCount: 4,
    }),
  ],
];

/** Labels of one kind letter in the order of the load. */
export function labelsOf(...kinds: LabelKind[]): LabelModel[] {
  return loadRows.flat().filter(({ code }) => kinds.some((kind) => code.startsWith(kind)));
}
