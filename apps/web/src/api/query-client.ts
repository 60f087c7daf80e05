import { QueryClient } from '@tanstack/react-query';
import { ApiProblem } from './problem.js';

/** A refusal stays a refusal however often it is asked; only silence and trouble are worth another try. */
function worthAnotherTry(failures: number, thrown: unknown): boolean {
  if (failures >= 2) return false;
  return thrown instanceof ApiProblem && (thrown.code === 'no-answer' || thrown.status >= 500);
}

export const queryClient = new QueryClient({
  defaultOptions: {
    // ask even where the browser believes that the wire is dead: the server may be on this very machine
    queries: { retry: worthAnotherTry, networkMode: 'always', staleTime: 5_000, refetchOnWindowFocus: true },
    mutations: { retry: false, networkMode: 'always' },
  },
});
