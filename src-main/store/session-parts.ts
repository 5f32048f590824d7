/** Which rows of a table belong to a session, and what of them is hashed. */
interface SessionPart {
  readonly table: string;
  readonly columns: string;
  /** What follows `FROM`; `@session` and the latest rows `@core` and `@winding` are bound. */
  readonly from: string;
  readonly order: string;
}

const ofRuns = 'IN (SELECT run_id FROM run WHERE session_id = @session)';
const ofPairs = `IN (SELECT event_id FROM kept_pair WHERE run_id ${ofRuns})`;
const build = 'SELECT build_id FROM session WHERE session_id = @session';

/** Everything that a session holds, in the order in which it is hashed. Added to for a further form, never edited. */
export const sessionParts: readonly SessionPart[] = [
  {
    table: 'core_revision',
    columns: 'revision_id, core_id, replaces, reason, wall_ms, body',
    from: `core_revision WHERE revision_id <= @core AND core_id = (SELECT core_id FROM build WHERE build_id = (${build}))`,
    order: 'revision_id',
  },
  {
    table: 'build',
    columns: 'build_id, core_id, number, wall_ms, body',
    from: `build WHERE build_id = (${build})`,
    order: 'build_id',
  },
  {
    table: 'winding_revision',
    columns: 'revision_id, winding_id, replaces, reason, wall_ms, turns_result_id, body',
    from: `winding_revision WHERE revision_id <= coalesce(@winding, 0)
      AND winding_id IN (SELECT winding_id FROM winding WHERE build_id = (${build}))`,
    order: 'revision_id',
  },
  {
    table: 'session',
    columns: 'session_id, build_id, practice, wall_ms',
    from: 'session WHERE session_id = @session',
    order: 'session_id',
  },
  {
    table: 'session_revision',
    columns: 'revision_id, replaces, reason, wall_ms, fed_winding_id, body',
    from: 'session_revision WHERE session_id = @session',
    order: 'revision_id',
  },
  {
    table: 'session_end',
    columns: 'session_id, wall_ms',
    from: 'session_end WHERE session_id = @session',
    order: 'session_id',
  },
  {
    table: 'run',
    columns: 'run_id, session_id, procedure, practice, wall_ms, mono_ms',
    from: 'run WHERE session_id = @session',
    order: 'run_id',
  },
  {
    table: 'run_channel',
    columns: 'run_id, channel, name, unit, meter_id, meter_revision_id, locked_range',
    from: `run_channel WHERE run_id ${ofRuns}`,
    order: 'run_id, channel',
  },
  {
    table: 'meter_revision',
    columns: 'revision_id, meter_id, wall_ms, body',
    from: `meter_revision WHERE revision_id IN (SELECT meter_revision_id FROM run_channel WHERE run_id ${ofRuns})`,
    order: 'revision_id',
  },
  {
    table: 'run_end',
    columns: 'run_id, ending, wall_ms',
    from: `run_end WHERE run_id ${ofRuns}`,
    order: 'run_id',
  },
  {
    table: 'reading',
    columns: 'reading_id, run_id, channel, place, at_us, wall_offset_ms, value, resolution, text, range_index, form',
    from: `reading WHERE run_id ${ofRuns}`,
    order: 'run_id, channel, at_us, reading_id',
  },
  {
    table: 'event',
    columns: 'event_id, session_id, run_id, wall_ms, mono_ms, kind, body',
    from: `event WHERE session_id = @session OR run_id ${ofRuns}`,
    order: 'event_id',
  },
  {
    table: 'kept_pair',
    columns: 'event_id, run_id',
    from: `kept_pair WHERE run_id ${ofRuns}`,
    order: 'event_id',
  },
  {
    table: 'kept_pair_reading',
    columns: 'event_id, quantity, reading_id',
    from: `kept_pair_reading WHERE event_id ${ofPairs}`,
    order: 'event_id, quantity, reading_id',
  },
  {
    table: 'kept_pair_withdrawal',
    columns: 'event_id, kept_event_id, reason',
    from: `kept_pair_withdrawal WHERE kept_event_id ${ofPairs}`,
    order: 'event_id',
  },
  {
    table: 'check_mark',
    columns: 'check_mark_id, run_id, check_name, mark, who, reason, wall_ms, mono_ms',
    from: 'check_mark WHERE session_id = @session',
    order: 'check_mark_id',
  },
  {
    table: 'result',
    columns: 'result_id, build_id, run_id, calculation, version, wall_ms, body',
    from: `result WHERE run_id ${ofRuns}`,
    order: 'result_id',
  },
  {
    table: 'result_reading',
    columns: 'result_id, reading_id',
    from: `result_reading WHERE result_id IN (SELECT result_id FROM result WHERE run_id ${ofRuns})`,
    order: 'result_id, reading_id',
  },
];
