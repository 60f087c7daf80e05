import { useRouterState } from '@tanstack/react-router';
import { Go } from '../../ui/Go.js';
import styles from './CrossReferencePages.module.css';
import { crossReferencePages } from './pages.js';

/** The ways of asking what else will serve, as links at the head of each page. */
export function CrossReferencePages() {
  const pathname = useRouterState({ select: (state) => state.location.pathname });
  return (
    <nav className={styles.pages} aria-label="Ways of asking">
      {crossReferencePages.map((page) => (
        <Go key={page.path} className={styles.page} href={page.path} aria-current={page.path === pathname ? 'page' : undefined}>
          {page.name}
        </Go>
      ))}
    </nav>
  );
}
