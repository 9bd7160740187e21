import { describe, expect, it } from 'vitest';
import { basisOfResults } from '../../src/report/basis-of-results.js';

describe('the basis of results in words', () => {
  it('names the state of the portions and every loss between it and the basis', () => {
    expect(basisOfResults({ basis: 'ignited', portionsWeighed: 'as received' })).toBe(
      'ignited: contents of the sample without its moisture and its loss on ignition; portions are weighed as received and brought to this basis by the loss recorded for each sample, as received to dry and dry to ignited',
    );
    expect(basisOfResults({ basis: 'dry', portionsWeighed: 'ignited' })).toBe(
      'dry: contents of the sample without its moisture; portions are weighed ignited and brought to this basis by the loss recorded for each sample, dry to ignited',
    );
    expect(basisOfResults({ basis: 'dry', portionsWeighed: 'dry' })).toBe(
      'dry: contents of the sample without its moisture; portions are weighed dry',
    );
  });
});
