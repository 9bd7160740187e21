import { describe, expect, it } from 'vitest';
import { issueFoot, issueMark, withIssueNumber } from '../../../src/report/html/issue-mark.js';
import { renderHtml } from '../../../src/report/render-html.js';
import { sampleReport } from '../../support/sample-report.js';

const issue = { study: 'zircon-pigment', number: '0004' };
const page = renderHtml(sampleReport, { figures: 'tables only' });

describe('the number of a report on its pages', () => {
  it('is that of the issue at the head and at the foot of each page, and no word of a draft is left', () => {
    expect(page).toContain('<p class="issue">Report: <strong>draft, not issued</strong></p>');
    const issued = withIssueNumber(page, issue);
    expect(issued).toContain('<p class="issue">Report: <strong>zircon-pigment/0004</strong></p>');
    // In a style sheet every sign but letters, digits and spaces is written by its code point: - is 2d, / is 2f.
    expect(issued).toMatch(/@page\{.*@bottom-center\{content:"zircon\\2d pigment\\2f 0004";/);
    expect(issued).not.toContain('draft');
    expect(issued.length - page.length).toBeLessThan(100);
  });

  it('is put nowhere else, whatever the records hold', () => {
    const words = `${issueMark} @page{${issueFoot};} draft, not issued`;
    const named = { ...sampleReport, title: words, subtitle: words, banner: words };
    const issued = withIssueNumber(renderHtml(named, { figures: 'tables only' }), issue);
    expect(issued.split('Report: <strong>')).toHaveLength(2);
    expect(issued.split('<strong>zircon-pigment/0004')).toHaveLength(2);
  });

  it('cannot be put on a page that has no place for it', () => {
    expect(() => withIssueNumber('<p>a page</p>', issue)).toThrow('found 0 places for the number');
    expect(() => withIssueNumber(withIssueNumber(page, issue), issue)).toThrow('found 0 places');
    expect(() => withIssueNumber(page + page, issue)).toThrow('found 2 places');
  });
});
