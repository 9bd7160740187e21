import { unexplainedStep } from '../../chain/counting-route.js';
import { lossInFusionSentences } from '../../records/loss-in-fusion.js';
import type { ChainUncertainty, LevelChain } from '../../studies/chain-uncertainty/chain-uncertainty.js';
import type { Budget } from '../../uncertainty/budget.js';
import type { Block, ReportDocument, Section } from '../document.js';
import { routesSideBySide } from '../figures/routes-side-by-side.js';
import { sharesByStep } from '../figures/shares-by-step.js';
import { simulationHistogram } from '../figures/simulation-histogram.js';
import { inReportedForm, reportedForm } from '../reported-form.js';
import { listOf, paragraph, sectionOf } from '../section-of.js';
import { modelBlocks } from '../sections/budget-section.js';
import { cautionsSection } from '../sections/cautions-section.js';
import { characteristicSection } from '../sections/characteristic-section.js';
import { equipmentSection } from '../sections/equipment-section.js';
import { provenanceSection } from '../sections/provenance-section.js';
import { recordsSection } from '../sections/records-section.js';
import { selfCheckSection } from '../sections/self-check-section.js';
import { signaturesSection } from '../sections/signatures-section.js';
import { chainData } from './chain-data.js';
import { actionsTable, functionTable, singlesTable } from './chain-outcome-tables.js';
import { chainAnswer, methodsSentences, outsideSentences } from './chain-sentences.js';
import {
  chainOverview,
  methodsTable,
  reasonsTable,
  relativePercent,
  routeNames,
  routesTable,
  scatterTable,
} from './chain-tables.js';
import { periodOfWork } from './period-of-work.js';
import { type DossierContext, inventedBanner } from './validation-report.js';

/** Results drawn in one figure. */
const barsOfFigure = 30;

/**
 * Report on the uncertainty of the whole chain: where it comes from, whether the components explain what was observed, both
 * routes, both methods, the function for routine results, and what it would take to do better.
 *
 * @see ISO/IEC 17025:2017, 7.6
 */
export function chainReport(found: ChainUncertainty, context: DossierContext): ReportDocument {
  const chain = asReported(found);
  const { validation, simulation } = chain;
  const { records } = validation.study.index;
  const { plan } = records;
  const targets = validation.budgets.map((b) => b.finding);
  return {
    title: `Uncertainty of the chain: ${plan.matrix}`,
    subtitle: `${plan.laboratory}, ${plan.line}, method ${plan.method}`,
    banner: plan.invented ? inventedBanner : '',
    facts: [
      { name: 'Result', value: resultRule(chain) },
      { name: 'Random parts', value: `counted once, by the ${routeNames[plan.route]} (rule of the plan)` },
      { name: 'Simulation', value: `${simulation.trials} trials each, seed ${simulation.seed}` },
      { name: 'Release', value: 'not by this report: an authorised person decides and signs' },
    ],
    sections: [
      answerSection(chain),
      sharesSection(chain),
      scatterSection(chain),
      routesSection(chain),
      methodsSection(chain),
      functionSection(chain),
      improvementSection(chain),
      characteristicSection([targets[0]!, ...targets.slice(1)], []),
      equipmentSection(records.equipment, periodOfWork(records)),
      recordsSection(context.files, records.missingTables),
      selfCheckSection(context.selfCheck),
      cautionsSection(),
      signaturesSection(),
      provenanceSection(context.provenance),
    ],
    data: chainData(found),
  };
}

/** The same for a reader: each analyte in the form that is reported. */
function asReported(chain: ChainUncertainty): ChainUncertainty {
  const { validation, levels, functions, improvement } = chain;
  const { plan } = validation.study.index.records;
  const budgets = inReportedForm(plan, validation.budgets).map((b) => ({
    ...b,
    finding: { ...b.finding, analyte: b.analyte },
  }));
  return {
    ...chain,
    validation: { ...validation, budgets },
    levels: inReportedForm(plan, levels),
    functions: inReportedForm(plan, functions),
    improvement: improvement && { ...improvement, analyte: reportedForm(plan, improvement.analyte) },
  };
}

function resultRule({ validation }: ChainUncertainty): string {
  const { digestions, readings } = validation.study.index.records.plan.resultRule;
  return `the mean of ${digestions} digestion(s) of one day, ${readings} readings each`;
}

function answerSection(chain: ChainUncertainty): Section {
  const { plan, digestions } = chain.validation.study.index.records;
  const notStudied = lossInFusionSentences(plan, digestions);
  return sectionOf({
    id: 'overview',
    heading: 'In short',
    clause: 'ISO/IEC 17025:2017, 7.6.1 and 7.6.3',
    blocks: [
      ...[...outsideSentences(chain), ...notStudied].map((text): Block => ({ kind: 'caution', text })),
      ...listOf(chainAnswer(chain)),
      chainOverview(chain),
    ],
  });
}

function sharesSection({ levels }: ChainUncertainty): Section {
  const parts = Math.ceil(levels.length / barsOfFigure);
  const figures = Array.from({ length: parts }, (_, part) =>
    sharesByStep({
      id: `shares/figure-${part + 1}`,
      caption: `Where the variance of a reported result comes from, by step of the chain (component route)${parts > 1 ? `, part ${part + 1} of ${parts}` : ''}`,
      bars: slice(levels, part).map(({ analyte, level, shares }) => ({
        analyte,
        level,
        shares,
        emphasised: unexplainedStep,
      })),
    }),
  );
  return sectionOf({
    id: 'shares',
    heading: 'Where does the uncertainty come from?',
    clause: 'ISO/IEC 17025:2017, 7.6.1',
    blocks: [
      paragraph(
        'Each bar is the variance of one reported result, split by the steps from weighing to emission; the dark end is the variation that no step explains. Shares add to 100 %; where inputs of two steps are correlated, their covariance is divided evenly. Inputs are the records of the digestion nearest to the median of the level.',
      ),
      ...figures,
    ],
  });
}

function slice(levels: readonly LevelChain[], part: number): readonly LevelChain[] {
  return levels.slice(part * barsOfFigure, (part + 1) * barsOfFigure);
}

function scatterSection(chain: ChainUncertainty): Section {
  return sectionOf({
    id: 'scatter',
    heading: 'Do the components explain the scatter that was observed?',
    clause: 'ISO/IEC 17025:2017, 7.2.2.3 and 7.6.1',
    blocks: [
      paragraph(
        'Only what comes anew with a digestion or a day is compared: stock standards, linearity of balances or a flux lot move all results together and show in no scatter. What is left over is named unexplained fusion–dissolution variation and enters the component route as a factor of its own. Where its interval begins at 0, the data do not show that there is any.',
      ),
      scatterTable(chain),
    ],
  });
}

function routesSection(chain: ChainUncertainty): Section {
  const relative = (u: number, of: Budget) => relativePercent(u, of);
  const { levels } = chain;
  const parts = Math.ceil(levels.length / barsOfFigure);
  const figures = Array.from({ length: parts }, (_, part) =>
    routesSideBySide({
      id: `routes/figure-${part + 1}`,
      caption: `Component route and precision-anchored route side by side${parts > 1 ? `, part ${part + 1} of ${parts}` : ''}`,
      results: slice(levels, part).map(({ analyte, level, routes: r }) => ({
        analyte,
        level,
        componentsAlone: relative(r.componentsAlone.standardUncertainty, r.componentsAlone),
        components: relative(r.components.standardUncertainty, r.components),
        precision: relative(r.precision.standardUncertainty, r.precision),
        interval: {
          low: relative(r.precisionInterval.low, r.precision),
          high: relative(r.precisionInterval.high, r.precision),
        },
      })),
    }),
  );
  return sectionOf({
    id: 'routes',
    heading: 'Component route and precision route side by side',
    clause: 'ISO/IEC 17025:2017, 7.6.3',
    blocks: [
      paragraph(
        'The component route adds every step and the unexplained variation. The precision route lets the observed intermediate precision stand for all random steps and adds only what it does not hold. Neither counts a random part twice. Both are equal by construction where an unexplained part closes the gap; where there is none, the components are the larger, as they hold more than the few days happened to show.',
      ),
      ...figures,
      routesTable(chain),
    ],
  });
}

function methodsSection(chain: ChainUncertainty): Section {
  const { levels, improvement } = chain;
  const drawn =
    levels.find((l) => l.analyte === improvement?.analyte && l.level === improvement.level) ?? levels[0]!;
  const histogram = (route: 'components' | 'precision') =>
    simulationHistogram(
      `methods/${route}-histogram`,
      `${drawn.analyte}, ${drawn.level} level, ${routeNames[route]}: simulation and law of propagation`,
      drawn.methods[route].budget,
      drawn.methods[route].simulated,
    );
  const reasons = reasonsTable(chain);
  return sectionOf({
    id: 'methods',
    heading: 'Law of propagation and simulation',
    clause: 'ISO/IEC 17025:2017, 7.6.3',
    blocks: [
      ...listOf(methodsSentences(chain)),
      methodsTable(
        'methods/components',
        'Component route by both methods',
        levels,
        (l) => l.methods.components,
      ),
      methodsTable(
        'methods/precision',
        'Precision route by both methods',
        levels,
        (l) => l.methods.precision,
      ),
      methodsTable(
        'methods/known',
        'Component route by both methods, every standard uncertainty taken as known (degrees of freedom not limited): a check of the model and of the propagation, not a result',
        levels,
        (l) => l.methods.known,
      ),
      ...(reasons.rows.length === 0 ? [] : [reasons]),
      histogram('components'),
      histogram('precision'),
    ],
  });
}

function functionSection({ functions, validation }: ChainUncertainty): Section {
  const { route } = validation.study.index.records.plan;
  return sectionOf({
    id: 'function',
    heading: 'Handed on to routine results',
    clause: 'ISO/IEC 17025:2017, 7.6.3 and 7.8.3.1 c',
    blocks: [
      paragraph(
        `A routine result of mass fraction w has u(w) = √(s₀² + (s₁·w)²), fitted to the budgets of the levels by the ${routeNames[route]} (QUAM:2012, Appendix E.5). s₀ is in the unit of the result and rules near the lower end, s₁ is relative. The JSON of this report holds the same figures in full under uncertaintyFunctions.`,
      ),
      functionTable(functions),
    ],
  });
}

function improvementSection({ improvement, levels }: ChainUncertainty): Section {
  if (improvement === null) {
    const why =
      'No budget holds everything that was found: settle that first; more work on the steps would not help.';
    return sectionOf({ id: 'improvement', heading: 'What would it take?', blocks: [paragraph(why)] });
  }
  const { analyte, level, targetPercent, aim, estimate, found } = improvement;
  const { components } = levels.find((l) => l.analyte === analyte && l.level === level)!.routes;
  const percent = (u: number) => `${Number(((100 * u) / Math.abs(estimate)).toPrecision(2))} %`;
  const stands =
    targetPercent === null
      ? 'No target is set for it.'
      : `Its target is ${targetPercent} %, which it ${aim === 'target' ? 'does not reach' : 'reaches'}.`;
  return sectionOf({
    id: 'improvement',
    heading: 'What would it take?',
    clause: 'ISO/IEC 17025:2017, 7.6.1',
    blocks: [
      paragraph(
        `${analyte}, ${level} level, is nearest to its target or beyond it, of the results whose budgets hold all that was found: U is ${percent(found.expandedUncertainty)} of the result by the component route. ${stands} The aim below is ${aim === 'target' ? 'the target' : 'half of today’s U'}, ${percent(found.target)}.`,
      ),
      actionsTable(improvement),
      singlesTable(improvement, components),
      {
        kind: 'budget',
        id: 'improvement/budget',
        caption: `${analyte}, ${level} level: the budget line by line, component route`,
        budget: components,
        target: aim === 'target' ? found.target : null,
      },
    ],
    sections: [
      sectionOf({
        id: 'improvement/model',
        heading: `The equation of the chain for ${analyte}`,
        blocks: modelBlocks('improvement/equations', modelOf(improvement.analyte, level, levels)),
      }),
    ],
  });
}

function modelOf(analyte: string, level: string, levels: readonly LevelChain[]) {
  return levels.find((l) => l.analyte === analyte && l.level === level)!.model;
}
