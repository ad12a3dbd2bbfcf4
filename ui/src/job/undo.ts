// SPDX-License-Identifier: Apache-2.0

/** Texts that were, and texts that were taken back. */
export interface Course {
  readonly past: readonly string[];
  readonly now: string;
  readonly ahead: readonly string[];
}

/** So many steps are kept. */
export const longestCourse = 500;

export function courseOf(text: string): Course {
  return { past: [], now: text, ahead: [] };
}

export function after(course: Course, text: string): Course {
  if (text === course.now) return course;
  return { past: [...course.past, course.now].slice(-longestCourse), now: text, ahead: [] };
}

export function undone(course: Course): Course {
  const before = course.past.at(-1);
  if (before === undefined) return course;
  return { past: course.past.slice(0, -1), now: before, ahead: [course.now, ...course.ahead] };
}

export function redone(course: Course): Course {
  const [next, ...ahead] = course.ahead;
  if (next === undefined) return course;
  return { past: [...course.past, course.now], now: next, ahead };
}
