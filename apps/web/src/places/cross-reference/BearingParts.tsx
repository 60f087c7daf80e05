import type { BearingDimensions, BearingInStores } from '@corewright/contracts/bearings';
import { millimetresPerInch } from '@corewright/quantities/inch';
import { Go } from '../../ui/Go.js';
import styles from './Bearings.module.css';

/** "25 × 52 × 15 mm", with the inches beside where a person would measure in inches. */
export function Dimensions({ of }: { readonly of: BearingDimensions }) {
  return (
    <span>
      <b>
        {sayMm(of.boreMm)} × {sayMm(of.outsideMm)} × {sayMm(of.widthMm)} mm
      </b>{' '}
      <span className="quiet">
        {sayInches(of.boreMm)} × {sayInches(of.outsideMm)} × {sayInches(of.widthMm)} in
      </span>
    </span>
  );
}

/** What of it lies in stores; or that none is known there. */
export function InStores({ parts }: { readonly parts: readonly BearingInStores[] }) {
  if (parts.length === 0) return <span className="quiet">none of this number</span>;
  return (
    <ul className={styles.stores}>
      {parts.map((part) => (
        <li key={part.partId}>
          <Go href={`/stores/parts/${part.partId}`}>
            {part.numbers.map(({ maker, number }) => `${number}, ${maker}`).join('; ')}
          </Go>
          : <b>{part.free === '0' ? 'none free' : `${part.free} free`}</b>
        </li>
      ))}
    </ul>
  );
}

/** A figure that nobody has looked up is said to be one. */
export function isFromMemory({ source }: BearingDimensions): boolean {
  return source.split(';').every((each) => each.includes('from memory'));
}

export function sayMm(millimetres: number): string {
  return String(Number(millimetres.toFixed(3)));
}

function sayInches(millimetres: number): string {
  return (millimetres / millimetresPerInch).toFixed(4);
}
