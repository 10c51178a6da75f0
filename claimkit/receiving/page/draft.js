// ---- The draft: kept on this telephone at every change, where it lets the page.

class Draft {
  constructor(id) {
    this.key = `claimkit-receiving ${id}`;
    this.denied = false;
  }

  read() {
    try {
      const kept = JSON.parse(window.localStorage.getItem(this.key));
      return kept && kept.entry && kept.entry.version === 1 ? kept : null;
    } catch (error) {
      // A draft that cannot be read is none; storage that cannot be used is told of.
      this.denied = !(error instanceof SyntaxError);
      return null;
    }
  }

  keep(entry) {
    try {
      const kept = JSON.stringify({ at: stampOf(new Date()), entry });
      window.localStorage.setItem(this.key, kept);
      this.denied = false;
    } catch {
      this.denied = true;
    }
  }

  forget() {
    try {
      window.localStorage.removeItem(this.key);
    } catch {
      this.denied = true;
    }
  }
}
