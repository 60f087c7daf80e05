import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { workshopQuery } from '../../api/session.js';
import styles from './Doorstep.module.css';

/** What stands before the door: the workshop's name and one thing to do. */
export function Doorstep({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  const workshop = useQuery(workshopQuery).data;
  return (
    <main id="main" className={styles.door}>
      <p className={styles.firm}>
        <b>{workshop === undefined || workshop.name === '' ? 'Corewright' : workshop.name}</b>
        {workshop !== undefined && workshop.name !== '' && (
          <span className="quiet">
            {workshop.isExample ? 'Corewright, example workshop: firms and people are invented' : 'Corewright'}
          </span>
        )}
      </p>
      <h1>{title}</h1>
      {children}
    </main>
  );
}
