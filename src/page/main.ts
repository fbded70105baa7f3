/** Where the page's code begins: in a window it is the page, in a worker it does what takes long. */
import { serve } from './far.js';
import { start } from './page.js';

if (typeof document === 'undefined') serve();
else start();
