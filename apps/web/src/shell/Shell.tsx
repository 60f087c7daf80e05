import { useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { Outlet, useRouterState } from '@tanstack/react-router';
import { useEffect } from 'react';
import { followNews } from '../api/events.js';
import { watchNetwork } from '../api/network.js';
import { queuesBelongTo } from '../api/outbound-queue.js';
import { meQuery } from '../api/session.js';
import { ArrivedWarning } from '../places/warnings/ArrivedWarning.js';
import { ScanningProvider } from '../scan/scanning.js';
import { Rail } from './Rail.js';
import { ScanStrip } from './ScanStrip.js';
import styles from './Shell.module.css';

/** What stands around every place once somebody is signed in. The bench brings its own plate and may hang on a wall. */
export function Shell() {
  const { data: me } = useSuspenseQuery(meQuery);
  const client = useQueryClient();
  const location = useRouterState({ select: (state) => state.location });
  const onBench = location.pathname === '/bench';
  const onWall = onBench && new URLSearchParams(location.searchStr).get('wall') === 'yes';

  useEffect(() => followNews(client), [client]);
  useEffect(() => watchNetwork(), []);
  useEffect(() => void queuesBelongTo(me.id), [me.id]);

  return (
    <ScanningProvider>
      <a className={styles.skip} href="#main">
        To the page
      </a>
      {!onWall && <Rail me={me} />}
      {!onBench && <ScanStrip />}
      <ArrivedWarning isListed={location.pathname === '/'} />
      <main id="main" tabIndex={-1} className={onBench ? styles.full : styles.page}>
        <Outlet />
      </main>
    </ScanningProvider>
  );
}
