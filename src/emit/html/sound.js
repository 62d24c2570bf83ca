// The four signals, ahead of time so that a page in the background still plays them, and vibration.
class Signals {
  constructor({ notes, ahead, knocks, gap, latest }) {
    Object.assign(this, { notes, ahead, knocks, gap, latest });
    this.Audio = window.AudioContext || window.webkitAudioContext;
    Object.assign(this, { audio: null, isTouched: false, skew: null, sounding: [], setTo: -Infinity, free: 0 });
  }
  get isReady() { return this.audio !== null && this.audio.state === "running"; }

  // Browsers allow sound and vibration only after a touch.
  allow(then) {
    this.isTouched = true;
    if (!this.audio && this.Audio) this.audio = new this.Audio();
    if (this.audio && !this.isReady) this.audio.resume().then(then, () => { });
  }
  // All signals of the session, each with its time: [time, signal, whether it is of a bath].
  list(tank) {
    const { beats, open, made } = tank;
    const [WARN, NOW] = [0, 1], isBath = (beat) => beat.isFilling || beat.isEmptying;
    const all = beats.length > 0 ? [[beats[0].at - this.knocks, WARN, true]] : [];
    for (const beat of beats) {
      if (beat.isWarned) all.push([beat.at - this.ahead, WARN, true]);
      if (beat.signal !== null) all.push([beat.at, beat.signal, isBath(beat)]);
    }
    open.forEach((one) => { if (!made[one.place]) one.looks.forEach((look) => all.push([one.zero + look, NOW, true])); });
    return all.sort((one, other) => one[0] - other[0]);
  }
  length(signal) { return Math.max(...this.notes[signal].map(([, , at, length]) => at + length)); }

  play(signal, when) {
    for (const [from, to, at, length] of this.notes[signal]) {
      const tone = this.audio.createOscillator(), level = this.audio.createGain();
      const begin = when + at / 1000, end = begin + length / 1000;
      tone.frequency.setValueAtTime(from, begin);
      tone.frequency.linearRampToValueAtTime(to, end);
      level.gain.setValueAtTime(0, begin);
      level.gain.linearRampToValueAtTime(0.8, begin + 0.01);
      level.gain.setValueAtTime(0.8, end - 0.01);
      level.gain.linearRampToValueAtTime(0, end);
      tone.connect(level).connect(this.audio.destination);
      tone.start(begin);
      tone.stop(end);
      tone.onended = () => { this.sounding = this.sounding.filter((other) => other !== tone); };
      this.sounding.push(tone);
    }
  }
  silence() {
    for (const tone of this.sounding) { try { tone.stop(); } catch (over) { } tone.disconnect(); }
    Object.assign(this, { sounding: [], skew: null });
  }
  // Sets the signals from the session's time `at` on, as far as the session runs on by itself.
  schedule(all, at, until) {
    if (!this.isReady) return;
    const now = Date.now() - this.audio.currentTime * 1000;
    if (this.skew === null || Math.abs(now - this.skew) > 150) {
      this.silence();
      Object.assign(this, { skew: now, setTo: at, free: at });
    }
    for (const [due, signal, isBath] of all) {
      if (due < this.setTo || due > until) continue;
      // If two would sound at once, the second follows the first.
      const time = Math.max(due, this.free);
      if (time - due <= this.latest || isBath) {
        this.play(signal, this.audio.currentTime + (time - at) / 1000);
        this.free = time + this.length(signal) + this.gap;
      }
    }
    this.setTo = Math.max(this.setTo, until + 1);
  }
  // All four, one after the other, to hear whether they are loud enough. Returns how long that takes.
  test(each) {
    let at = 0;
    this.notes.forEach((notes, signal) => {
      const begin = at;
      setTimeout(() => each(signal), begin);
      if (this.isReady) this.play(signal, this.audio.currentTime + 0.05 + begin / 1000);
      at += this.length(signal) + 1000;
    });
    this.buzz(1);
    return at;
  }
  buzz(signal) {
    if (!this.isTouched || !navigator.vibrate) return;
    const pattern = [];
    let end = 0;
    this.notes[signal].forEach(([, , at, length]) => { if (pattern.length > 0) pattern.push(at - end); pattern.push(length); end = at + length; });
    navigator.vibrate(pattern);
  }
}
