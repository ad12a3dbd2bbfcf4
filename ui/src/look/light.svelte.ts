// SPDX-License-Identifier: Apache-2.0

/** Light or dark: as this computer has it until somebody chooses. */
export type Light = 'light' | 'dark';

const kept = 'combwright.light';
const dark = window.matchMedia('(prefers-color-scheme: dark)');

function chosen(): Light | null {
  const word = localStorage.getItem(kept);
  return word === 'light' || word === 'dark' ? word : null;
}

class Look {
  light = $state<Light>(chosen() ?? (dark.matches ? 'dark' : 'light'));

  constructor() {
    dark.addEventListener('change', () => {
      if (!chosen()) this.show(dark.matches ? 'dark' : 'light');
    });
    this.show(this.light);
  }

  choose(light: Light) {
    localStorage.setItem(kept, light);
    this.show(light);
  }

  private show(light: Light) {
    this.light = light;
    document.documentElement.dataset.light = light;
  }
}

export const look = new Look();

/** A colour of tokens.css as it is now, for canvas and charts: colour('ink'). */
export function colour(token: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(`--${token}`).trim();
}
