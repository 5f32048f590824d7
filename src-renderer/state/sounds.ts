/** The two sounds that the program has, and its voice. All are silent until the person has touched the page, as browsers ask. */
export class Sounds {
  isOn = true;
  #context: AudioContext | null = null;
  #alarm: ReturnType<typeof setInterval> | undefined;

  /** One short tick: something was kept. */
  tick(): void {
    this.#tone(1600, 0.03, 0.15);
  }

  /** Says a few words aloud, where the system has a voice; what was being said is cut short. */
  say(words: string): void {
    if (!this.isOn || !('speechSynthesis' in globalThis)) return;
    speechSynthesis.cancel();
    speechSynthesis.speak(new SpeechSynthesisUtterance(words));
  }

  /** The alarm, twice a second, for as long as it is on. */
  alarm(isOn: boolean): void {
    if (isOn === (this.#alarm !== undefined)) return;
    clearInterval(this.#alarm);
    this.#alarm = undefined;
    if (!isOn) return;
    const call = (): void => {
      this.#tone(880, 0.22, 0.35);
      this.#tone(1175, 0.2, 0.35, 0.24);
    };
    call();
    this.#alarm = setInterval(call, 1000);
  }

  stop(): void {
    this.alarm(false);
    void this.#context?.close();
    this.#context = null;
  }

  #tone(hertz: number, seconds: number, loudness: number, afterSeconds = 0): void {
    if (!this.isOn) return;
    this.#context ??= new AudioContext();
    const from = this.#context.currentTime + afterSeconds;
    const tone = new OscillatorNode(this.#context, { frequency: hertz });
    const gain = new GainNode(this.#context, { gain: 0 });
    gain.gain.setValueAtTime(loudness, from);
    gain.gain.exponentialRampToValueAtTime(0.001, from + seconds);
    tone.connect(gain).connect(this.#context.destination);
    tone.start(from);
    tone.stop(from + seconds);
  }
}
