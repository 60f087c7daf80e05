import type { ReactNode } from 'react';
import { Checkbox } from 'react-aria-components';
import styles from './Field.module.css';

export interface CheckFieldProps {
  readonly children: ReactNode;
  readonly isSelected: boolean;
  readonly onChange: (isSelected: boolean) => void;
  readonly isDisabled?: boolean;
}

/** Yes or no, with the words beside the box. */
export function CheckField({ children, isSelected, onChange, isDisabled }: CheckFieldProps) {
  return (
    <Checkbox className={styles.check ?? ''} isSelected={isSelected} onChange={onChange} isDisabled={isDisabled}>
      <span className={styles.box} aria-hidden="true" />
      <span>{children}</span>
    </Checkbox>
  );
}
