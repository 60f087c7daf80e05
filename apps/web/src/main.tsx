import './styles/all.css';
import { QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { queryClient } from './api/query-client.js';
import { router } from './routes/router.js';
import { chosenTheme, showTheme } from './shell/theme.js';

showTheme(chosenTheme());

const ground = document.getElementById('root');
if (ground === null) throw new Error('The page has no element "root" to draw in');

createRoot(ground).render(
  <StrictMode>
    <QueryClientProvider client={queryClient}>
      <RouterProvider router={router} />
    </QueryClientProvider>
  </StrictMode>,
);
