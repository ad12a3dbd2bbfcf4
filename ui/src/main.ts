// SPDX-License-Identifier: Apache-2.0
import { mount } from 'svelte';
import App from './App.svelte';
import './look/tokens.css';
import './look/page.css';
import './look/print.css';

mount(App, { target: document.getElementById('page')! });
