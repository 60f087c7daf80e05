import { AskAround, type RecordAnswer, ThingAnswerList } from '@corewright/contracts/ask-around';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import { useStoresChange } from './actions.js';

/** What is here and nobody could name, the oldest first. */
export const askAroundQuery = queryOptions({
  queryKey: ['stores', 'ask-around'],
  queryFn: ({ signal }) => api.get(AskAround, '/api/ask-around', { signal }),
});

/** What was told of a thing by those who were asked. */
export const answersQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId, 'answers'],
    queryFn: ({ signal }) => api.get(ThingAnswerList, `/api/things/${thingId}/answers`, { signal }),
  });

export function useRecordAnswer(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (answer: RecordAnswer) =>
    api.send(ThingAnswerList, 'POST', `/api/things/${thingId}/answers`, answer, { key: newKey() }),
  );
}
