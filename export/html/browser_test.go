package html_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"panelyard/parts/partstest"
)

// browser is a Chromium that a test drives through its debugging pipe (Chrome
// DevTools Protocol: messages in JSON, each ended by a zero byte).
type browser struct {
	t       *testing.T
	to      *os.File
	from    *bufio.Reader
	session string
	calls   int
	dir     string
	events  []string // methods of events that came while an answer was awaited

	complaints []string // of the page, what it throws and what it is not allowed to do
}

// message is an answer, or an event where it has a method.
type message struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// launch starts a browser, off the network, with a window of a size in dots.
func launch(t *testing.T, wide, high int) *browser {
	t.Helper()
	name := partstest.Tool(t, "chromium")
	b := &browser{t: t, dir: t.TempDir()}
	in, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(name, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(b.dir, "profile"), "--remote-debugging-pipe")
	cmd.ExtraFiles = []*os.File{in, out}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in.Close()
	out.Close()
	b.to, b.from = to, bufio.NewReader(from)
	// A browser that hangs ends with the pipe.
	late := time.AfterFunc(2*time.Minute, func() { from.Close(); cmd.Process.Kill() })
	t.Cleanup(func() {
		fmt.Fprint(to, `{"id":0,"method":"Browser.close"}`+"\x00")
		end := time.AfterFunc(10*time.Second, func() { cmd.Process.Kill() })
		cmd.Wait()
		end.Stop()
		late.Stop()
		to.Close()
		from.Close()
	})
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log"} {
		b.call(domain+".enable", nil, nil)
	}
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false}, nil)
	return b
}

// next returns the next message, and notes what the page complains of.
func (b *browser) next() message {
	b.t.Helper()
	line, err := b.from.ReadBytes(0)
	if err != nil {
		b.t.Fatalf("the browser is gone: %v", err)
	}
	var m message
	if err := json.Unmarshal(line[:len(line)-1], &m); err != nil {
		b.t.Fatal(err)
	}
	if m.Method == "Runtime.exceptionThrown" || m.Method == "Log.entryAdded" {
		b.complaints = append(b.complaints, string(m.Params))
	}
	if m.Method != "" {
		b.events = append(b.events, m.Method)
	}
	return m
}

// call asks for something and waits for the answer.
func (b *browser) call(method string, params, result any) {
	b.t.Helper()
	b.calls++
	ask := map[string]any{"id": b.calls, "method": method}
	if params != nil {
		ask["params"] = params
	}
	if b.session != "" {
		ask["sessionId"] = b.session
	}
	text, err := json.Marshal(ask)
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := b.to.Write(append(text, 0)); err != nil {
		b.t.Fatal(err)
	}
	for {
		m := b.next()
		if m.ID != b.calls {
			continue
		}
		if m.Error != nil {
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				b.t.Fatal(err)
			}
		}
		return
	}
}

// open loads a page from a file, at a fragment that may be empty.
func (b *browser) open(page, fragment string) {
	b.t.Helper()
	file := filepath.Join(b.dir, "report.html")
	if err := os.WriteFile(file, []byte(page), 0o644); err != nil {
		b.t.Fatal(err)
	}
	b.call("Page.navigate", map[string]any{"url": "about:blank"}, nil)
	b.wait("Page.loadEventFired")
	b.call("Page.navigate", map[string]any{"url": "file://" + file + fragment}, nil)
	b.wait("Page.loadEventFired")
}

// wait waits for an event that has not been waited for.
func (b *browser) wait(method string) {
	b.t.Helper()
	for {
		for i, e := range b.events {
			if e == method {
				b.events = b.events[i+1:]
				return
			}
		}
		b.next()
	}
}

// scripts says whether the pages that are opened from now on may run scripts.
func (b *browser) scripts(on bool) {
	b.t.Helper()
	b.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": !on}, nil)
}

// eval returns the value of an expression in the page as text.
func (b *browser) eval(expression string) string {
	b.t.Helper()
	var r struct {
		Result           struct{ Value any }
		ExceptionDetails *struct{ Exception struct{ Description string } }
	}
	b.call("Runtime.evaluate", map[string]any{"expression": "String(" + expression + ")", "returnByValue": true}, &r)
	if r.ExceptionDetails != nil {
		b.t.Fatalf("%s: %s", expression, r.ExceptionDetails.Exception.Description)
	}
	return fmt.Sprint(r.Result.Value)
}

// press presses a key.
func (b *browser) press(key string, code int, text string) {
	b.t.Helper()
	b.call("Input.dispatchKeyEvent", map[string]any{"type": "keyDown", "key": key, "windowsVirtualKeyCode": code, "text": text}, nil)
	b.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key, "windowsVirtualKeyCode": code}, nil)
}

// middle returns the place in the window of the middle of what an expression gives.
func (b *browser) middle(element string) (x, y float64) {
	b.t.Helper()
	var at [2]float64
	if err := json.Unmarshal([]byte(b.eval("JSON.stringify((r => [r.left + r.width / 2, r.top + r.height / 2])(("+element+").getBoundingClientRect()))")), &at); err != nil {
		b.t.Fatal(err)
	}
	return at[0], at[1]
}

// click clicks in the middle of what an expression gives, which must be in sight.
func (b *browser) click(element string) {
	b.t.Helper()
	x, y := b.middle(element)
	for _, kind := range []string{"mousePressed", "mouseReleased"} {
		b.call("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
}

// frame waits until the window has been drawn.
func (b *browser) frame() {
	b.t.Helper()
	b.call("Page.captureScreenshot", nil, nil)
}

// print prints the page, on the paper it asks for, into a file and returns its name.
func (b *browser) print() string {
	b.t.Helper()
	var r struct{ Data []byte }
	b.call("Page.printToPDF", map[string]any{"preferCSSPageSize": true}, &r)
	file := filepath.Join(b.dir, "page.pdf")
	if err := os.WriteFile(file, r.Data, 0o644); err != nil {
		b.t.Fatal(err)
	}
	return file
}
