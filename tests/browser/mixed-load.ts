/** Twenty rows as they come off a van: nine units, eight lots, three things that nobody has named. All invented. */
import type { KeyedRow } from './keying.js';

export const mixedLoad: readonly KeyedRow[] = [
  { kind: 'u', cells: { type: 'WD7 8-ton', grade: 'C', marks: 'WD7 4?18', place: 'Yard, Row 2' } },
  { kind: 'u', cells: { 'what it is': 'worm axle, drums on', grade: '"', marks: '??7 61' } },
  { kind: 'u', cells: { type: 'S11', grade: 'B', marks: 'S11 20945' } },
  { kind: 'u', cells: { type: 'S11', grade: 'C', marks: 'S11 2?352', note: 'drained' } },
  { kind: 'u', cells: { type: '4G', grade: 'B', marks: '4G/2 11863', place: 'Rack 6 Floor' } },
  { kind: 'u', cells: { type: '4G', grade: '"', marks: '4G/2 11?64' } },
  { kind: 'u', cells: { 'what it is': 'gearbox, no lid', grade: 'D', marks: 'cast 61-0?9' } },
  { kind: 'u', cells: { type: '30 H', grade: 'D', marks: 'P30 H 1175' } },
  { kind: 'u', cells: { type: 'WD7 8-ton', grade: 'C', marks: 'WD7 5208', owner: 'R. Sandiman' } },
  {
    kind: 'l',
    cells: { 'part number, or name': '48-2218', count: '2', source: 'old', 'packet date': '12 Mar 1949', place: 'R3 B12' },
  },
  { kind: 'l', cells: { 'part number, or name': '48 2218', count: '"', source: 'old', 'packet date': 'Q3 1951' } },
  { kind: 'l', cells: { 'part number, or name': '48.2206', count: '16', 'packet date': 'Mar 1952' } },
  { kind: 'l', cells: { 'part number, or name': '48-2230', count: '3', source: 'old', 'packet date': '1954', place: 'R1 B01' } },
  { kind: 'l', cells: { 'part number, or name': '48-2230', count: '1', source: 'old' } },
  { kind: 'l', cells: { 'what it is': 'lock tabs, bent once', count: '40' } },
  { kind: 'l', cells: { 'part number, or name': 's11 220', count: '2', 'packet date': 'May 2024' } },
  { kind: 'l', cells: { 'part number, or name': '48-2206', count: '9' } },
  { kind: 'x', cells: { 'what it is': 'tobacco tin: shims, two keys', count: '40', place: 'R1 B02' } },
  { kind: 'x', cells: { 'what it is': 'box of studs' } },
  { kind: 'x', cells: { 'what it is': 'felt rings in a bag', count: '6' } },
];
