import { useState } from 'react';
import { setSingleKeysAct, singleKeysAct } from '../../scan/single-keys.js';
import { chooseTheme, chosenTheme, type Theme } from '../../shell/theme.js';
import { CheckField } from '../../ui/CheckField.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { Section } from '../../ui/Section.js';
import { NotSent } from '../today/NotSent.js';
import styles from './SettingsScreen.module.css';

const themes: readonly { readonly value: Theme; readonly label: string }[] = [
  { value: 'system', label: 'as the system has it' },
  { value: 'light', label: 'light' },
  { value: 'dark', label: 'dark, for the bench at night' },
];

/** What holds for this browser only. */
export function ThisDeviceSection() {
  const [theme, setTheme] = useState<Theme>(chosenTheme);
  const [single, setSingle] = useState(singleKeysAct);
  return (
    <Section title="This device">
      <div className={styles.columns}>
        <div className={styles.stack}>
          <RadioRow
            label="Light and dark"
            value={theme}
            choices={themes}
            onChange={(chosen) => {
              setTheme(chosen);
              chooseTheme(chosen);
            }}
          />
          <CheckField
            isSelected={single}
            onChange={(act) => {
              setSingle(act);
              setSingleKeysAct(act);
            }}
          >
            Single keys act outside a field: digits after a scan are its quantity, 1 to 3 choose when a scan was stopped. Switch
            this off where somebody dictates.
          </CheckField>
        </div>
        <NotSent />
      </div>
    </Section>
  );
}
