import type { Warning } from '@corewright/contracts/warnings';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { warningsQuery } from './queries.js';
import styles from './Warnings.module.css';

/**
 * Says once, aloud for those who listen, that a warning has come while this screen was open; what was there before stands on Today.
 * @param isListed whether the screen lists warnings by itself
 */
export function ArrivedWarning({ isListed }: { readonly isListed: boolean }) {
  const open = useQuery(warningsQuery).data?.open;
  const { arrived, see } = useArrived(open);
  const [newest, ...others] = arrived;
  return (
    <>
      <p className="hidden" role="status">
        {newest !== undefined && `New warning. ${newest.words}. ${newest.job.name}.`}
      </p>
      {newest !== undefined && !isListed && (
        <div className={styles.arrived}>
          <b>New warning</b>
          <p>
            {newest.words}. {newest.job.name}
            {others.length > 0 && `, and ${others.length} more`}
          </p>
          <Acts>
            <ButtonLink href={`/jobs/${newest.job.id}`}>Look at the job</ButtonLink>
            <Button look="plain" onPress={see}>
              Seen
            </Button>
          </Acts>
        </div>
      )}
    </>
  );
}

/** Of what is open, what came after this screen was, and was not put aside here. */
function useArrived(open: readonly Warning[] | undefined) {
  const [known, setKnown] = useState<ReadonlySet<string> | null>(null);
  if (known === null && open !== undefined) setKnown(new Set(open.map(({ id }) => id)));
  return {
    arrived: known === null ? [] : (open ?? []).filter(({ id }) => !known.has(id)),
    see: () => setKnown(new Set([...(known ?? []), ...(open ?? []).map(({ id }) => id)])),
  };
}
