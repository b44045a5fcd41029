package wire

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net/url"
	"time"

	mqtt "github.com/eclipse/paho.mqtt.golang"

	"evenstead/sense"
)

// every is the subscription to all topics of ours.
const every = sense.Root + "/+/+"

// ports are the usual ports of the forms a broker's address may have.
var ports = map[string]string{"mqtt": "1883", "mqtts": "8883"}

// brokerAt reads a broker's address: mqtt://host:1883, or mqtts for TLS, with the
// user's name before an @.
func brokerAt(text string) (*url.URL, error) {
	u, err := url.Parse(text)
	if err != nil || ports[u.Scheme] == "" || u.Hostname() == "" || u.Path != "" || u.RawQuery != "" {
		return nil, fmt.Errorf("broker %q: write mqtt://HOST:1883, or mqtts://HOST:8883 for one with TLS", text)
	}
	if _, has := u.User.Password(); has {
		return nil, errors.New("the broker's password does not belong in its address, where others see it: put it into a file")
	}
	if u.Port() == "" {
		u.Host += ":" + ports[u.Scheme]
	}
	return u, nil
}

// Listen takes readings from a broker until ctx ends. It returns at once; while
// the broker can't be reached it tries again, ever more slowly up to a minute.
func (h *Hub) Listen(ctx context.Context, broker, password string) error {
	u, err := brokerAt(broker)
	if err != nil {
		return err
	}
	o := mqtt.NewClientOptions().AddBroker(u.String()).SetClientID(clientID())
	o.SetUsername(u.User.Username()).SetPassword(password)
	o.SetCleanSession(true).SetOrderMatters(true) // what was said while we were away has no time, and would pass for new
	o.SetConnectRetry(true).SetConnectRetryInterval(5 * time.Second).SetMaxReconnectInterval(time.Minute).SetConnectTimeout(10 * time.Second)
	o.SetConnectionLostHandler(func(_ mqtt.Client, err error) { h.opt.Log(fmt.Sprintf("the broker at %s was lost: %v", u.Host, err)) })
	take := func(_ mqtt.Client, m mqtt.Message) { h.Message(ctx, m.Topic(), m.Payload(), m.Retained()) }
	o.SetOnConnectHandler(func(c mqtt.Client) {
		if t := c.Subscribe(every, 1, take); t.WaitTimeout(10*time.Second) && t.Error() == nil {
			h.opt.Log(fmt.Sprintf("listening to %s at the broker %s", every, u.Host))
		} else {
			h.opt.Log(fmt.Sprintf("the broker at %s does not let us listen to %s: %v", u.Host, every, t.Error()))
		}
	})
	c := mqtt.NewClient(o)
	c.Connect()
	context.AfterFunc(ctx, func() { c.Disconnect(100) })
	return nil
}

// clientID is a name of our own at the broker, within the 23 bytes that every
// broker takes (MQTT 3.1.1, section 3.1.3.1).
func clientID() string {
	var b [6]byte
	_, _ = rand.Read(b[:]) // never fails (crypto/rand)
	return "evenstead" + hex.EncodeToString(b[:])
}
