import type { Me } from '@corewright/contracts/people';
import { useQuery } from '@tanstack/react-query';
import { useRouterState } from '@tanstack/react-router';
import { useState } from 'react';
import { workshopQuery } from '../api/session.js';
import { WarningsMark } from '../places/warnings/WarningsMark.js';
import { Button } from '../ui/Button.js';
import { classNames } from '../ui/class-names.js';
import { Go } from '../ui/Go.js';
import { isWithin, places } from './places.js';
import styles from './Rail.module.css';
import { useSignOut } from './use-sign-out.js';

/** The firm, the places, the person. On a phone four places and "More" stand at the foot. */
export function Rail({ me }: { readonly me: Me }) {
  const workshop = useQuery(workshopQuery).data;
  const pathname = useRouterState({ select: (state) => state.location.pathname });
  const [more, setMore] = useState(false);
  const signOut = useSignOut();
  const inFar = places.some((place) => place.far && isWithin(place, pathname));

  return (
    <header className={styles.rail}>
      <p className={styles.firm}>
        <b>{workshop?.name ?? 'Corewright'}</b>
        <span>{workshop?.isExample === true ? 'Corewright, example workshop' : 'Corewright'}</span>
      </p>
      <nav className={styles.places} aria-label="Places">
        {places.map((place) => (
          <Go
            key={place.path}
            href={place.path}
            className={classNames(styles.place, place.far && styles.far)}
            aria-current={isWithin(place, pathname) ? 'page' : undefined}
            onClick={() => setMore(false)}
          >
            {place.name}
            {place.path === '/' && <WarningsMark />}
          </Go>
        ))}
        <button
          type="button"
          className={classNames(styles.place, styles.more)}
          aria-expanded={more}
          aria-controls="more-places"
          data-current={inFar || undefined}
          onClick={() => setMore(!more)}
        >
          More
        </button>
      </nav>
      <div className={styles.who}>
        <b>{me.displayName}</b>
        <span className="quiet">{me.role}</span>
        <span className={styles.out}>
          <Button look="plain" onPress={signOut}>
            Sign out
          </Button>
        </span>
      </div>
      {more && (
        <div id="more-places" className={styles.sheet}>
          {places
            .filter((place) => place.far)
            .map((place) => (
              <Go key={place.path} href={place.path} className={styles.place} onClick={() => setMore(false)}>
                {place.name}
              </Go>
            ))}
          <Button look="plain" onPress={signOut}>
            Sign out {me.displayName}
          </Button>
        </div>
      )}
    </header>
  );
}
