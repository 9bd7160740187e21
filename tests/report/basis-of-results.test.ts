import { describe, expect, it } from 'vitest';
import { basisOfResults } from '../../src/report/basis-of-results.js';

describe('the basis of results in words', () => {
  it('names the state of the portions and every loss between it and the basis', () => {
    expect(basisOfResults({ basis: 'ignited', portionsWeighed: 'as received' })).toBe(
      'ignited (without moisture and loss on ignition), by the loss on drying and loss on ignition recorded for each sample; portions weighed as received',
    );
    expect(basisOfResults({ basis: 'dry', portionsWeighed: 'ignited' })).toBe(
      'dry (without moisture), by the loss on ignition recorded for each sample; portions weighed ignited',
    );
    expect(basisOfResults({ basis: 'dry', portionsWeighed: 'dry' })).toBe(
      'dry (without moisture); portions weighed dry',
    );
  });
});
