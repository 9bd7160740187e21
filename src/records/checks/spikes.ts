import { quoteFound } from '../issue-list.js';
import type { StudyView } from './study-view.js';

/** A spike and its partners are digestions of one sample; the partners hold no addition. */
export function checkSpikes(view: StudyView): void {
  if (!view.isComplete('digestions')) return;
  const samples = new Map(view.withBroken('digestions').map((each) => [each.digestion, each.sample]));
  const spiked = view.values('spikes', 'digestion');
  view.each('spikes', ({ digestion, unspikedPartner }) => {
    if (!samples.has(digestion)) {
      return {
        code: 'unknown digestion',
        field: 'digestion',
        expected: 'a digestion of the table digestions',
      };
    }
    for (const partner of unspikedPartner.split('|').map((each) => each.trim())) {
      const refuse = (code: string, expected: string) =>
        ({ code, field: 'unspikedPartner', found: quoteFound(partner), expected }) as const;
      if (!samples.has(partner)) return refuse('unknown digestion', 'a digestion of the table digestions');
      if (spiked.has(partner)) return refuse('partner', 'a digestion without an addition');
      const [own, other] = [samples.get(digestion), samples.get(partner)];
      if (own !== undefined && other !== undefined && own !== other) {
        return refuse('partner', `a digestion of the same sample, ${quoteFound(own)}`);
      }
    }
    return null;
  });
}
