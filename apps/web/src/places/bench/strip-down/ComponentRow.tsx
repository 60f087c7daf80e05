import type { StripComponent, StripFinding } from '@corewright/contracts/cores';
import type { ReactNode } from 'react';
import { Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { Photographs } from '../../photographs/Photographs.js';
import styles from './StripDown.module.css';

export interface ComponentRowProps {
  readonly component: StripComponent;
  readonly isOpen: boolean;
  /** the strip-down is not finished, and the person works with things */
  readonly mayRecord: boolean;
  readonly onOpen: () => void;
  readonly onPutRight: (finding: StripFinding) => void;
  /** the form, while it is open */
  readonly children?: ReactNode;
}

/** One component: its number, its name, what has become of it; a press opens what can be said of it. */
export function ComponentRow({ component, isOpen, mayRecord, onOpen, onPutRight, children }: ComponentRowProps) {
  const { position, name, quantity, takenBefore, fittedHere, findings } = component;
  const standing = findings.filter((finding) => !finding.superseded);
  const inside = (
    <>
      <span className={styles.position}>{position}</span>
      <span className={styles.name}>
        <strong>
          {name}
          {quantity !== '1' && <span className={styles.count}> × {quantity}</span>}
        </strong>
        <small>{expectedWords(component)}</small>
      </span>
      <span className={styles.state}>{stateWords(component)}</span>
    </>
  );
  return (
    <li className={classNames(styles.row, isOpen && styles.openRow)}>
      {mayRecord && component.undecided !== '0' ? (
        <button type="button" className={styles.handle} aria-expanded={isOpen} onClick={onOpen}>
          {inside}
        </button>
      ) : (
        <div className={styles.handle}>{inside}</div>
      )}
      {takenBefore.map((each) => (
        <p key={each.id} className={styles.finding}>
          taken off before:{' '}
          <Go href={`/stores/things/${each.id}`}>
            <Code code={each.code} /> {each.name}
          </Go>
        </p>
      ))}
      {fittedHere.map((each) => (
        <p key={each.id} className={styles.finding}>
          <span>
            fitted here, {each.quantity} of it:{' '}
            <Go href={`/stores/things/${each.id}`}>
              <Code code={each.code} /> {each.name}
            </Go>
          </span>
        </p>
      ))}
      {standing.map((finding) => (
        <div key={finding.id} className={styles.finding}>
          <p>
            <FindingSaid finding={finding} of={quantity} />
          </p>
          <Photographs pictures={finding.pictures} subject={finding.name} subjectIds={[finding.id]} />
          {mayRecord && (
            <Button
              look="plain"
              label={`Put it right: ${finding.name}, ${finding.disposition ?? 'missing'}`}
              onPress={() => onPutRight(finding)}
            >
              Put it right
            </Button>
          )}
        </div>
      ))}
      {children}
    </li>
  );
}

/** "to stores, pitted, L 000123 45, in Rack 3; Tom". */
export function FindingSaid({ finding, of }: { readonly finding: StripFinding; readonly of: string }) {
  const { disposition, kind, words, stamped, thickness, ownersWord, thing, where, by, lookedAt } = finding;
  const said = [
    kind === 'as expected' ? '' : kind,
    finding.finding,
    words,
    stamped === '' ? '' : `stamped ${stamped}`,
    thickness === null ? '' : `${thickness} mm`,
    ownersWord === '' ? '' : `on the word of ${ownersWord}`,
  ].filter((each) => each !== '');
  return (
    <>
      {of !== '1' && `${finding.quantity}: `}
      <b>{disposition ?? 'missing'}</b>
      {said.length > 0 && `, ${said.join(', ')}`}
      {thing !== null && (
        <>
          {' '}
          <Go href={`/stores/things/${thing.id}`}>
            <Code code={thing.code} />
          </Go>
        </>
      )}
      {where !== '' && ` ${where}`}{' '}
      <span className="quiet">
        {by}
        {!lookedAt && ', usual fate, never looked at'}
      </span>
    </>
  );
}

function expectedWords({ mustBeLookedAt, usualFate, keptSet, isMainCasing, isExtra, part }: StripComponent): string {
  return [
    isExtra ? 'nobody expected it' : null,
    isMainCasing ? 'the casing that the unit is known by' : null,
    mustBeLookedAt ? 'must be looked at' : null,
    keptSet === '' ? null : `${keptSet}, stays together`,
    usualFate === null ? null : `usually ${usualFate}`,
    part === null ? null : part.number,
  ]
    .filter((words) => words !== null)
    .join(' · ');
}

function stateWords({ undecided, toLookAt, quantity }: StripComponent): string {
  if (undecided === '0') return 'done';
  if (undecided !== quantity) return `${undecided} to go`;
  return toLookAt === '0' ? 'no fate yet' : 'look at it';
}
