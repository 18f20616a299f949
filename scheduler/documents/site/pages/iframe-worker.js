// Search without a server: a browser starts no worker for a page that was opened from a folder, so its script runs in a hidden frame.

class FrameWorker extends EventTarget {
  constructor(url) {
    super();
    const frame = document.createElement("iframe");
    frame.hidden = true;
    frame.src = "about:blank";
    document.body.append(frame);
    const inside = frame.contentWindow;
    inside.importScripts = (...scripts) => scripts.reduce((done, script) => done.then(() => this.load(inside, script)), Promise.resolve());
    inside.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
    this.inside = inside;
    this.ready = this.load(inside, url);
  }

  load(inside, url) {
    return new Promise((resolve, reject) => {
      const script = Object.assign(inside.document.createElement("script"), { src: url, onload: resolve, onerror: reject });
      inside.document.body.append(script);
    });
  }

  postMessage(data) {
    this.ready.then(() => this.inside.dispatchEvent(new this.inside.MessageEvent("message", { data })));
  }

  terminate() {
    this.inside.frameElement.remove();
  }
}

if (window.location.protocol === "file:") window.Worker = FrameWorker;
