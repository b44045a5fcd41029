package wire

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"

	mqtt "github.com/mochi-mqtt/server/v2"
	"github.com/mochi-mqtt/server/v2/listeners"
	"github.com/mochi-mqtt/server/v2/packets"

	"evenstead/sense"
)

// Bounds of our own broker, for a house's sensors on a small board.
const (
	mostClients = 64
	mostPacket  = 4096 // bytes
	mostWaiting = 64   // messages of one client
	longestStay = 3600 // s that a session that was left is kept
)

// user is the name that sensors give to our broker, with the token as password.
const user = "sensor"

// Broker answers sensors at an address until ctx ends, as a broker of its own.
// They give the name "sensor" and the token; without one (Options.Token) nobody
// is let in. It returns the address it answers at.
func (h *Hub) Broker(ctx context.Context, addr string) (string, error) {
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", addr)
	if err != nil {
		return "", fmt.Errorf("the broker: %w", err)
	}
	limits := mqtt.NewDefaultServerCapabilities()
	limits.MaximumClients, limits.MaximumPacketSize = mostClients, mostPacket
	limits.MaximumClientWritesPending, limits.MaximumInflight, limits.ReceiveMaximum = mostWaiting, mostWaiting, mostWaiting
	limits.MaximumSessionExpiryInterval, limits.TopicAliasMaximum = longestStay, 0
	s := mqtt.New(&mqtt.Options{Capabilities: limits, ClientNetReadBufferSize: mostPacket, ClientNetWriteBufferSize: mostPacket,
		Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err := s.AddHook(&gate{hub: h, ctx: ctx}, nil); err != nil {
		return "", fmt.Errorf("the broker: %w", err)
	}
	if err := s.AddListener(listeners.NewNet("sensors", l)); err != nil {
		return "", fmt.Errorf("the broker: %w", err)
	}
	if err := s.Serve(); err != nil {
		return "", fmt.Errorf("the broker: %w", err)
	}
	context.AfterFunc(ctx, func() {
		if err := s.Close(); err != nil {
			h.opt.Log(fmt.Sprintf("the broker: %v", err))
		}
	})
	return l.Addr().String(), nil
}

// gate lets sensors with the token in, to topics of ours alone, and hands what
// they say on.
type gate struct {
	mqtt.HookBase
	hub *Hub
	ctx context.Context
}

func (*gate) ID() string { return "gate" }

func (*gate) Provides(b byte) bool {
	return b == mqtt.OnConnectAuthenticate || b == mqtt.OnACLCheck || b == mqtt.OnPublish
}

func (g *gate) OnConnectAuthenticate(_ *mqtt.Client, pk packets.Packet) bool {
	return string(pk.Connect.Username) == user && g.hub.Allowed(string(pk.Connect.Password))
}

// OnACLCheck allows what is ours to be written, and to be read by name.
func (*gate) OnACLCheck(_ *mqtt.Client, topic string, write bool) bool {
	if !write && topic == every {
		return true
	}
	_, _, err := sense.ParseTopic(topic)
	return err == nil
}

// OnPublish takes a message in. None is retained: names of stores are without
// number, and memory is not.
func (g *gate) OnPublish(_ *mqtt.Client, pk packets.Packet) (packets.Packet, error) {
	pk.FixedHeader.Retain = false
	g.hub.Message(g.ctx, pk.TopicName, pk.Payload, false)
	return pk, nil
}
