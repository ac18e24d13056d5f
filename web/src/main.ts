import './design/tokens.css';
import './design/base.css';
import { mount } from 'svelte';
import Page from './Page.svelte';

// A task of its own: the browser may answer between reading the page's code and building the page.
setTimeout(() => mount(Page, { target: document.getElementById('page') as HTMLElement }));

// Offline after the first visit. From a plain folder of files there is no service worker, and none is needed.
if ('serviceWorker' in navigator && location.protocol.startsWith('http')) {
  void navigator.serviceWorker.register('./service-worker.js').catch(() => undefined);
}
