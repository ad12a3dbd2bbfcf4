// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { after, courseOf, longestCourse, redone, undone } from '../src/job/undo';

describe('the course of a text', () => {
  it('goes back and forth to the same texts', () => {
    const course = after(after(courseOf('a'), 'b'), 'c');
    expect(undone(course).now).toBe('b');
    expect(redone(undone(course))).toEqual(course);
    expect(undone(undone(undone(course))).now).toBe('a');
  });

  it('forgets what was ahead when something else is written', () => {
    const course = after(undone(after(courseOf('a'), 'b')), 'x');
    expect(redone(course).now).toBe('x');
  });

  it('takes no step where nothing changes', () => {
    expect(undone(after(courseOf('a'), 'a')).now).toBe('a');
    expect(after(courseOf('a'), 'a').past).toEqual([]);
  });

  it('keeps no more than its longest', () => {
    let course = courseOf('');
    for (let i = 1; i <= longestCourse + 5; ++i) course = after(course, String(i));
    expect(course.past.length).toBe(longestCourse);
  });
});
