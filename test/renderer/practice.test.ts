import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import { done } from '../../src-shared/contract/failure.ts';
import { lessonIds, type LessonId } from '../../src-shared/practice/lesson/lesson.ts';
import { lessonById } from '../../src-shared/practice/lesson/lessons.ts';
import { controlsAtFirst, type PracticeNow } from '../../src-shared/practice/controls.ts';
import { FakeProgram } from './fake-program.ts';
import { dimmerCore, primary } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const quiet: PracticeNow['now'] = {
  isOn: true,
  lineAmps: 0.31,
  watts: 9.4,
  windingCelsius: 31,
  coreCelsius: 28,
  hurts: ['The core stands at about 115 V against earth.'],
};

/** A program with a demonstration core of 412 true turns, of which 411 to 413.6 were found. */
function practising(): FakeProgram {
  const program = new FakeProgram();
  const coreId = program.addCore({ ...dimmerCore, demonstration: 'dimmer-a' }, [primary]);
  const core = program.cores.get(coreId)?.[0];
  const build = program.builds[0];
  const winding = build?.windings[0];
  if (core === undefined || build === undefined || winding === undefined) throw new Error('They were just added.');
  let controls = controlsAtFirst;
  const set = { hiding: { kind: 'nothing' }, isQuiet: false, now: quiet } as const;
  program.instead['practice.get'] = () => done({ controls, ...set });
  program.instead['practice.set'] = (asked) => {
    controls = asked.controls;
    return done({ controls, ...set });
  };
  program.instead['practice.press'] = () => done({ controls, ...set });
  program.instead['practice.hidden'] = () =>
    done([
      {
        buildId: build.buildId,
        windingId: winding.windingId,
        label: 'Primary',
        turns: 412,
        ohms20: 2.9,
        metal: 'copper',
      },
    ]);
  const input = { readings: [{ coilTurns: 10, coilVolts: { value: 0.5833, u: 0.0004 }, primaryVolts: 24.03 }] };
  const output: unknown = JSON.parse(JSON.stringify(calculate('test-coil', input)));
  const result = { resultId: 5, buildId: build.buildId, runId: null, calculation: 'test-coil', version: 1, wallMs: 0 };
  program.instead['core.list'] = () => done([{ core, builds: [build], results: [{ ...result, input, output }] }]);
  return program;
}
const lastSet = (program: FakeProgram) => inputsOf(program, 'practice.set').at(-1);

test('leads a lesson from any page, and says calmly what would have hurt', async () => {
  const program = practising();
  const steps = lessonById('low-coil').steps.map((_, index) => (index === 0 ? 'done' : index === 1 ? 'next' : 'later'));
  let inHand: LessonId | null = 'low-coil';
  const view = () => ({
    inHand,
    core: { coreId: 1, label: 'Dimmer core B', buildIds: [1] },
    lessons: lessonIds.map((lessonId) => ({
      lessonId,
      begunWallMs: lessonId === 'low-coil' ? 1 : null,
      steps: lessonId === 'low-coil' ? [...steps] : [],
    })),
  });
  program.instead['lesson.list'] = () => done(view());
  program.instead['lesson.mark'] = ({ act }) => {
    inHand = act === 'left' ? null : 'low-coil';
    return done(view());
  };
  await showPage(program, '#/meters');
  const band = page.getByRole('region', { name: 'Lesson in hand' });
  await expect.element(band.getByText(/Open a session on Dimmer core B/)).toBeVisible();
  await expect.element(band.getByText('step 2 of 11')).toBeVisible();
  await expect.element(band.getByRole('link', { name: 'To the bench' })).toHaveAttribute('href', '#/bench');
  await band.getByRole('button', { name: 'Steps' }).click();
  await expect.element(band.getByRole('listitem').nth(1)).toHaveAttribute('aria-current', 'step');
  program.push({ kind: 'alarm', code: 'practice-core-live', sentence: 'Practice: the core stands at 115 V.', atMs: 1 });
  await expect
    .poll(() => page.getByRole('alert').element().textContent)
    .toMatch(/What would have hurt, [^]*the core stands at 115 V/);
  await band.getByRole('button', { name: 'Leave lesson' }).click();
  await expect.element(band).not.toBeInTheDocument();
  expect(inputsOf(program, 'lesson.mark')).toEqual([{ lessonId: 'low-coil', act: 'left' }]);
});

test('sets the bench, and draws it as it is joined', async () => {
  const program = practising();
  await showPage(program, '#/practice');
  await page.getByLabelText('Load on the secondary').fill('1,5');
  await expect.poll(() => lastSet(program)).toEqual({ controls: { ...controlsAtFirst, loadOhms: 1.5 } });
  await page.getByLabelText('Temporary turns in series').fill('20');
  await page.getByLabelText('Wrong way round').click();
  await page.getByRole('combobox', { name: 'A fault to find' }).selectOptions('A shorted turn');
  await expect
    .poll(() => lastSet(program))
    .toEqual({
      controls: { ...controlsAtFirst, loadOhms: 1.5, addedTurns: 20, addedOpposed: true, fault: 'shorted-turn' },
    });
  await expect.element(page.getByText('+ 20 turns, wrong way')).toBeVisible();
  await expect.element(page.getByText('The core stands at about 115 V against earth.')).toBeVisible();
});

test('keeps what cannot be set from being set, and the text as typed', async () => {
  const program = practising();
  await showPage(program, '#/practice');
  const load = page.getByLabelText('Load on the secondary');
  await load.fill('-3');
  await expect.element(page.getByText(/Load must be a number from 0 to 10000 Ω/)).toBeVisible();
  await expect.element(load).toHaveValue('-3');
  expect(inputsOf(program, 'practice.set')).toEqual([]);
});

test('hides a fault, tells it when asked, and mends it', async () => {
  const program = practising();
  let hiding: PracticeNow['hiding'] = { kind: 'nothing' };
  const answer = (next: PracticeNow['hiding']) => () => {
    hiding = next;
    return done({ controls: controlsAtFirst, hiding, isQuiet: false, now: quiet });
  };
  program.instead['practice.get'] = () => answer(hiding)();
  program.instead['practice.hide'] = answer({ kind: 'hidden' });
  program.instead['practice.tell'] = answer({ kind: 'told', fault: 'hot-joint', size: '31 mΩ' });
  program.instead['practice.mend'] = answer({ kind: 'nothing' });
  await showPage(program, '#/practice');
  const fault = page.getByRole('region', { name: 'A fault to find' });
  await fault.getByRole('button', { name: 'Hide a fault from me' }).click();
  await expect.element(fault.getByText('A fault is hidden.')).toBeVisible();
  await expect.element(fault.getByText(/31 mΩ/)).not.toBeInTheDocument();
  await fault.getByRole('button', { name: 'Tell me what it is' }).click();
  await expect.element(fault.getByText('a loose lug on the output, 31 mΩ')).toBeVisible();
  await fault.getByRole('button', { name: 'Mend it' }).click();
  await expect.element(fault.getByRole('button', { name: 'Hide a fault from me' })).toBeVisible();
});

test('sets supply, core and meters, and wakes meters that went quiet', async () => {
  const program = practising();
  await showPage(program, '#/practice');
  await page.getByText('Supply, core, coils and meters').click();
  await page.getByRole('group', { name: 'Source' }).getByLabelText('Soft').click();
  await page.getByLabelText('Gap of a re-made joint').fill('0,12');
  await page.getByLabelText('Test coil wound anew').fill('20');
  await page.getByLabelText('After 2 min').click();
  const set = { ...controlsAtFirst, source: 'soft', jointGapMm: 0.12, coilTurns: 20, autoOff: 2 };
  await expect.poll(() => lastSet(program)).toEqual({ controls: set });
  await page.getByRole('button', { name: 'Press a key of each meter' }).click();
  await expect.poll(() => inputsOf(program, 'practice.press')).toEqual([{}]);
});

test('shows the truth beside what was found only when it is asked for', async () => {
  await showPage(practising(), '#/practice');
  const region = page.getByRole('region', { name: 'Dimmer core B: what was hidden' });
  await region.getByRole('button', { name: /Show the truth/ }).click();
  const drawing = region.getByRole('img', { name: /turns of the primary: found 41\d.* to 41\d.*, truth 412/ });
  await expect.element(drawing).toBeVisible();
  await expect.element(drawing).toHaveAttribute('aria-label', expect.stringMatching(/held it\.$/));
});
