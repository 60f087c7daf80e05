import type { Elsewhere } from '@corewright/contracts/coverage';
import { Code } from '../../ui/Code.js';
import { Go } from '../../ui/Go.js';

/** Which job has what another could use, and on what word. */
export function GoesBefore({ elsewhere }: { readonly elsewhere: Elsewhere }) {
  const { job, words } = elsewhere;
  return (
    <>
      <Go href={`/jobs/${job.id}`}>
        <Code code={job.code} />
      </Go>
      : {words}
    </>
  );
}
