import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { unitTypesQuery } from './queries.js';
import styles from './SettingsScreen.module.css';

export interface OfUnitTypeProps {
  readonly title: string;
  readonly words: ReactNode;
  /** what is shown of the type that is chosen */
  readonly children: (typeId: string) => ReactNode;
}

/** A section of what concerns one unit type at a time: which one, then the rest. */
export function OfUnitType({ title, words, children }: OfUnitTypeProps) {
  const types = useQuery(unitTypesQuery).data?.unitTypes ?? [];
  const [chosen, setChosen] = useState('');
  const typeId = chosen === '' ? (types[0]?.id ?? '') : chosen;
  return (
    <Section title={title}>
      <p className="quiet">{words}</p>
      {types.length === 0 ? (
        <p>No unit type is in the books yet. Bring them in as a file.</p>
      ) : (
        <SelectField
          label="Unit type"
          value={typeId}
          choices={types.map((type) => ({ value: type.id, label: `${type.name}, ${type.kind}` }))}
          onChange={setChosen}
        />
      )}
      {typeId !== '' && <div className={styles.ofType}>{children(typeId)}</div>}
    </Section>
  );
}
