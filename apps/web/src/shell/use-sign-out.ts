import { Done } from '@corewright/contracts/base';
import { useQueryClient } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { api } from '../api/client.js';
import { queuesBelongTo } from '../api/outbound-queue.js';

/** Ends the session. What waits on this device stays, and goes out when the same person signs in again. */
export function useSignOut(): () => void {
  const client = useQueryClient();
  const router = useRouter();
  return () => {
    void api
      .send(Done, 'POST', '/api/sign-out', {})
      .catch(() => undefined)
      .then(async () => {
        await queuesBelongTo(null);
        client.clear();
        router.history.push('/sign-in');
      });
  };
}
