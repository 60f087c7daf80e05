import Sequencer from '@jest/test-sequencer';

/** What takes longest goes first, or one worker is left with it at the end. */
const longest = [
  'tests/browser/every-screen.spec.ts',
  'tests/faults/kill.spec.ts',
  'tests/integration/twice.spec.ts',
  'tests/integration/certificate.spec.ts',
  'tests/browser/label-a-load.spec.ts',
  'tests/model/stores.spec.ts',
  'tests/integration/race.spec.ts',
  'tests/model/ledger.spec.ts',
  'tests/model/reservations.spec.ts',
  'tests/faults/embedded-postgres.spec.ts',
];

/** On a fresh clone Jest knows no more of a file than its size; what it has learnt of the others since is kept to. */
export default class LongestFirst extends Sequencer {
  sort(tests) {
    const rank = ({ path }) => (longest.findIndex((end) => path.endsWith(end)) + longest.length + 1) % (longest.length + 1);
    return super.sort(tests).sort((one, other) => rank(one) - rank(other));
  }
}
